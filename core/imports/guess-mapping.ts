import type { CalendarDate } from '../units/calendar-date.ts'
import { type ColumnLooks, looksOf } from './column-looks.ts'
import { columnWords, nameSays, PHRASES_BY_FIELD, stageFactNamed, stageNamed } from './column-words.ts'
import {
  type ColumnUse,
  type ListField,
  MOST_OF_A_KIND,
  type StageFact,
  stageColumn,
  stageColumnParts,
} from './list-fields.ts'

/** A column's name and some of its filled cells. */
export interface ColumnSample {
  readonly name: string
  readonly cells: readonly string[]
}

export interface ColumnGuess {
  readonly use: ColumnUse
  /** 0 to 1. */
  readonly confidence: number
}

/** Below this a column is left out until someone says what it is. */
export const LEAST_CONFIDENCE = 0.4

/** "sure", "likely", "a guess": how the screen says a confidence. */
export function confidenceWords(confidence: number): 'sure' | 'likely' | 'a guess' {
  if (confidence >= 0.8) return 'sure'
  return confidence >= 0.6 ? 'likely' : 'a guess'
}

interface Candidate {
  readonly column: number
  readonly use: ColumnUse
  readonly confidence: number
}

interface Column {
  readonly words: string
  readonly looks: ColumnLooks
}

/**
 * Guesses what each column holds, by its name in many wordings and by the look of its cells, each with a confidence. Every use is
 * given once, to the column that fits it best (notes may repeat); what fits nothing well enough is left out.
 */
export function guessMapping(samples: readonly ColumnSample[], today: CalendarDate): ColumnGuess[] {
  const columns = samples.map((sample) => ({ words: columnWords(sample.name), looks: looksOf(sample.cells, today) }))
  const candidates = columns.flatMap((column, index) => [
    ...fieldCandidates(column, index),
    ...stageCandidates(column, index),
  ])
  candidates.sort((a, b) => b.confidence - a.confidence || a.column - b.column)
  const guesses = new Map<number, ColumnGuess>()
  const taken = new Set<ColumnUse>()
  for (const { column, use, confidence } of candidates) {
    if (confidence < LEAST_CONFIDENCE || guesses.has(column)) continue
    const free = freeUse(use, taken)
    if (free === null) continue
    taken.add(free)
    guesses.set(column, { use: free, confidence: Math.min(1, confidence) })
  }
  const inOrder = columns.map((_, index) => guesses.get(index) ?? { use: 'ignore' as const, confidence: 0 })
  return settleTogether(inOrder, columns)
}

/** The use itself; the second telephone, the next stage of a kind, when it is given away; null when nothing is left. */
function freeUse(use: ColumnUse, taken: ReadonlySet<ColumnUse>): ColumnUse | null {
  if (use === 'notes' || !taken.has(use)) return use
  if (use === 'phone' && !taken.has('second-phone')) return 'second-phone'
  const parts = stageColumnParts(use)
  if (parts === null) return null
  for (let nth = parts.nth + 1; nth <= MOST_OF_A_KIND; nth++) {
    const next = stageColumn(parts.kind, nth, parts.fact)
    if (!taken.has(next)) return next
  }
  return null
}

type Look = (looks: ColumnLooks) => number
const dates: Look = (looks) => Math.max(looks.date, looks.serial)
const numbers: Look = (looks) => looks.number

/** Fields whose cells have a look of their own, and how telling the look is when the name says nothing. */
const FIELD_LOOKS: Readonly<Partial<Record<ListField, { readonly look: Look; readonly alone: number }>>> = {
  email: { look: (looks) => looks.email, alone: 0.85 },
  phone: { look: (looks) => looks.phone, alone: 0.75 },
  'second-phone': { look: (looks) => looks.phone, alone: 0 },
  'postal-code': { look: (looks) => looks.postalCode, alone: 0.45 },
  'mail-postal-code': { look: (looks) => looks.postalCode, alone: 0 },
  address: { look: (looks) => looks.wholeAddress, alone: 0.75 },
  street: { look: (looks) => Math.max(looks.street, looks.wholeAddress), alone: 0.6 },
  region: { look: (looks) => looks.region, alone: 0.5 },
  stage: { look: (looks) => looks.stage, alone: 0.7 },
  'stage-changed-on': { look: dates, alone: 0 },
  'stage-due-on': { look: dates, alone: 0 },
  'installed-on': { look: dates, alone: 0 },
  'filters-changed-on': { look: dates, alone: 0 },
  // "Where" over addresses is no place of a unit.
  unit: { look: (looks) => 1 - Math.max(looks.wholeAddress, looks.street), alone: 0 },
  people: { look: (looks) => looks.smallNumber, alone: 0 },
  'stage-months': { look: (looks) => looks.smallNumber, alone: 0 },
  'stage-place': { look: (looks) => looks.smallNumber, alone: 0 },
  hardness: { look: numbers, alone: 0 },
  tds: { look: numbers, alone: 0 },
  name: { look: (looks) => looks.personName * looks.variety, alone: 0.5 },
  'no-mail': { look: (looks) => looks.yesNo, alone: 0 },
  'mail-welcome': { look: (looks) => looks.yesNo, alone: 0 },
}

/** Names are not refuted by their look: a list of businesses is a list of names too. */
const NEVER_REFUTED: ReadonlySet<ListField> = new Set<ListField>([
  'name',
  'street',
  'region',
  'postal-code',
  'mail-postal-code',
  'stage',
])

function fieldCandidates(column: Column, index: number): Candidate[] {
  const found: Candidate[] = []
  for (const [field, phrases] of PHRASES_BY_FIELD) {
    const confidence = fieldConfidence(field, nameSays(column.words, phrases), column.looks)
    if (confidence > 0) found.push({ column: index, use: field, confidence })
  }
  return found
}

function fieldConfidence(field: ListField, named: number, looks: ColumnLooks): number {
  const own = FIELD_LOOKS[field]
  if (own === undefined || looks.filled === 0) return named
  const fits = own.look(looks)
  if (named === 0) return fits >= 0.7 ? own.alone * fits : 0
  if (NEVER_REFUTED.has(field)) return named * 0.9 + fits * 0.1
  // A column called "Phone" full of e-mail addresses is not a telephone.
  return fits < 0.2 ? named * 0.4 : named * 0.75 + fits * 0.25
}

/** Columns that belong to one stage: "Sediment last changed", "Carbon 2 part no.", or just "Membrane" over dates. */
function stageCandidates(column: Column, index: number): Candidate[] {
  const stage = stageNamed(column.words)
  if (stage === null) return []
  const named = stageFactNamed(column.words)
  if (named === 'nothing') return []
  const fact = named ?? factByLook(column.looks)
  if (fact === null || !factFits(fact, column.looks)) return []
  // The words of a stage weigh more than a general phrase: "Membrane installed" is not the unit's own date.
  const confidence = named === null ? 0.85 : 1.02
  return [{ column: index, use: stageColumn(stage.kind, stage.nth ?? 1, fact), confidence }]
}

function factByLook(looks: ColumnLooks): StageFact | null {
  if (dates(looks) >= 0.5) return 'changed-on'
  return looks.filled > 0 && looks.smallNumber >= 0.8 ? 'months' : null
}

function factFits(fact: StageFact, looks: ColumnLooks): boolean {
  if (looks.filled === 0 || fact === 'part') return true
  return fact === 'months' ? looks.number >= 0.5 || looks.smallNumber >= 0.5 : dates(looks) >= 0.3
}

/** What only the whole list can tell: whether it has a stage a row, and whether an address stands in one cell. */
function settleTogether(guesses: readonly ColumnGuess[], columns: readonly Column[]): ColumnGuess[] {
  const uses = new Set(guesses.map((guess) => guess.use))
  const stageARow = uses.has('stage')
  return guesses.map((guess, index) => {
    const looks = columns[index]?.looks
    if (guess.use === 'street' && looks && looks.wholeAddress >= 0.6 && !uses.has('address'))
      return { ...guess, use: 'address' }
    if (guess.use === 'mail-street' && !uses.has('street') && !uses.has('address')) return { ...guess, use: 'street' }
    return { ...guess, use: stageARow ? asStageARow(guess.use, uses) : asUnitARow(guess.use, uses) }
  })
}

function asStageARow(use: ColumnUse, uses: ReadonlySet<ColumnUse>): ColumnUse {
  if (use === 'filters-changed-on' && !uses.has('stage-changed-on')) return 'stage-changed-on'
  if (use === 'every-months' && !uses.has('stage-months')) return 'stage-months'
  return use
}

function asUnitARow(use: ColumnUse, uses: ReadonlySet<ColumnUse>): ColumnUse {
  if (use === 'stage-changed-on') return uses.has('filters-changed-on') ? 'ignore' : 'filters-changed-on'
  if (use === 'stage-months') return uses.has('every-months') ? 'ignore' : 'every-months'
  return use === 'stage-due-on' || use === 'stage-part' || use === 'stage-place' || use === 'stage-rank'
    ? 'ignore'
    : use
}
