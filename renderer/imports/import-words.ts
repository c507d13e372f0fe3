import { CHOICES, type Choice } from '../../core/imports/find-likeness.ts'
import { confidenceWords } from '../../core/imports/guess-mapping.ts'
import type { ListColumn } from '../../core/imports/imports-contract.ts'
import type { JudgedEntry } from '../../core/imports/judged-entry.ts'
import { type ColumnUse, LIST_FIELDS, labelOfUse, STAGE_FACTS, stageColumn } from '../../core/imports/list-fields.ts'
import { STAGE_KINDS, type StageKind } from '../../core/installations/stage-kinds.ts'
import type { Choice as FieldChoice } from '../design/ChoiceField.tsx'

/** What was chosen for households that look like another, by their key. */
export type Choices = Readonly<Record<string, Choice>>

export const CHOICE_WORDS: Readonly<Record<Choice, string>> = {
  new: 'a new household',
  'same-household': 'the same household',
  'same-customer': 'a further address of the same customer',
  'leave-out': 'leave it out',
}

/** What is done with an entry; null for a refused row. */
export function choiceOf(entry: JudgedEntry, choices: Choices): Choice | null {
  if (entry.kind === 'refused') return null
  return choices[entry.key] ?? entry.likeness?.advice ?? 'new'
}

/** Households that will be new, under a new customer or a known one. */
export function createdCount(entries: readonly JudgedEntry[], choices: Choices): number {
  return entries.filter((entry) => {
    const choice = choiceOf(entry, choices)
    return choice === 'new' || choice === 'same-customer'
  }).length
}

export const SHOWN = ['all', 'new', 'like', 'refused', 'noted'] as const
export type Shown = (typeof SHOWN)[number]

export function isShown(entry: JudgedEntry, shown: Shown, choices: Choices): boolean {
  const choice = choiceOf(entry, choices)
  if (shown === 'new') return choice === 'new' || choice === 'same-customer'
  if (shown === 'like') return entry.likeness !== null
  if (shown === 'refused') return entry.kind === 'refused'
  return shown === 'all' || entry.findings.length > 0
}

/** "line 217", "lines 217 to 221". */
export function linesInWords(lines: readonly number[]): string {
  const first = lines[0] ?? 0
  const last = lines.at(-1) ?? first
  return first === last ? String(first) : `${first}–${last}`
}

/** The choices offered for an entry: without a likeness it is new or left out. */
export function offeredChoices(entry: JudgedEntry): FieldChoice<Choice>[] {
  const offered = entry.likeness === null ? (['new', 'leave-out'] as const) : CHOICES
  return offered.map((id) => ({ id, words: CHOICE_WORDS[id] }))
}

const TWO_OF_A_KIND: ReadonlySet<StageKind> = new Set<StageKind>(['sediment', 'carbon', 'post-carbon'])

const STAGE_USES: readonly ColumnUse[] = STAGE_KINDS.flatMap((kind) =>
  (TWO_OF_A_KIND.has(kind) ? [1, 2] : [1]).flatMap((nth) => STAGE_FACTS.map((fact) => stageColumn(kind, nth, fact))),
)

/** Everything a column may be, the one it is among them. */
export function columnChoices(use: ColumnUse): FieldChoice<ColumnUse>[] {
  const all: ColumnUse[] = ['ignore', ...LIST_FIELDS, ...STAGE_USES]
  return (all.includes(use) ? all : [use, ...all]).map((id) => ({ id, words: labelOfUse(id) }))
}

/** How sure the guess of a column is, in words; empty once somebody chose. */
export function surenessWords(column: ListColumn, use: ColumnUse, remembered: boolean): string {
  if (use !== column.use) return 'you chose'
  if (remembered) return 'as last time'
  return use === 'ignore' ? '' : confidenceWords(column.confidence)
}
