import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import type { TrainStage } from '../installations/stage-train.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { InstallationId } from '../units/ids.ts'
import { addCents, type Cents, cents } from '../units/money.ts'
import { grouped } from './grouped.ts'
import { capital, stageName } from './letter-words.ts'
import type { RunSender } from './run-sender.ts'

/** A letter as it is printed: every word of it frozen. */
export interface LetterPage {
  readonly reference: string
  readonly writtenOn: CalendarDate
  readonly addressLines: readonly string[]
  /** Without the comma: "Dear Idris Bexhill-Moreno". */
  readonly salutation: string
  readonly subject: string
  readonly body: string
  readonly answer: string
  readonly cautions: string
  readonly currency: string
  /** One train an installation; a heading where there are several. */
  readonly trains: readonly { readonly heading: string; readonly stages: readonly TrainStage[] }[]
  /** Null where the letter asks for no money. */
  readonly price: LetterPagePrice | null
  /** On the slip, to tell whose it is. */
  readonly slipName: string
  /** What can be ticked on the slip: two columns of two. */
  readonly slipAnswers: SlipAnswers
}

export type SlipAnswers = readonly [readonly [string, string], readonly [string, string]]

const REMINDER_ANSWERS: SlipAnswers = [
  ['come on ________________', 'call me in the morning / evening'],
  ['not this time', 'we have moved'],
]

/** A page that says what the visit costs. */
export interface PricedLetterPage extends LetterPage {
  readonly price: LetterPagePrice
}

export interface LetterPagePrice {
  /** "Sediment filter, carbon block": what is changed. Empty when nothing is. */
  readonly parts: string
  readonly partsCents: Cents
  readonly callCents: Cents
  readonly taxCents: Cents
  readonly totalCents: Cents
  /** Changed too, but without a price in the books: told on the phone. Empty for none. */
  readonly unpriced: string
}

/** What all letters of a run share. */
export interface LetterRunFacts extends RunSender {
  readonly pageSize: 'letter' | 'a4'
  readonly windowEnvelope: 'us-10' | 'din-5008-b'
  readonly printedOn: CalendarDate
  readonly madeAt: string
  readonly title: string
}

/** What a page of a letter is made from, whether just composed or read from the books. */
export interface FrozenLetter {
  readonly reference: string
  readonly writtenOn: CalendarDate
  readonly addressLines: readonly string[]
  readonly salutation: string
  readonly subject: string
  readonly body: string
  readonly answer: string
  readonly cautions: string
  readonly currency: string
  readonly netCents: Cents
  readonly taxCents: Cents
  readonly totalCents: Cents
  readonly stages: readonly FrozenStage[]
}

export interface FrozenStage extends Omit<TrainStage, 'ringed'> {
  readonly installationId: InstallationId
  /** "The unit at 7 Millrace Court": a heading where the letter speaks of several. */
  readonly unit: string
  readonly due: boolean
  readonly priceCents: Cents
}

/** Lays a frozen letter out as a page: a train an installation, the parts together, the call as the rest of the price. */
export function letterPage(letter: FrozenLetter): PricedLetterPage {
  const units = [...grouped(letter.stages, (stage) => stage.installationId).values()]
  const changed = letter.stages.filter((stage) => stage.due && STAGE_KIND_WORDS[stage.kind].care === 'change')
  const priced = changed.filter((stage) => stage.priceCents > 0)
  const partsCents = addCents(...priced.map((stage) => stage.priceCents))
  const { reference, writtenOn, addressLines, salutation, subject, body, answer, cautions, currency } = letter
  const { taxCents, totalCents } = letter
  return {
    ...{ reference, writtenOn, addressLines, salutation, subject, body, answer, cautions, currency },
    trains: units.map((stages) => ({
      heading: units.length > 1 ? (stages[0]?.unit ?? '') : '',
      stages: stages.map(({ stageId, kind, label, dueOn, lifeLeft, daysLate, reason, due }) => ({
        ...{ stageId, kind, label, dueOn, lifeLeft, daysLate, reason, ringed: due },
      })),
    })),
    price: {
      parts: inOneLine(priced.map(partWords)),
      partsCents,
      callCents: cents(letter.netCents - partsCents),
      taxCents,
      totalCents,
      unpriced: inOneLine(changed.filter((stage) => stage.priceCents === 0).map(partWords)),
    },
    slipName: salutation.replace(/^(Dear|To) /, ''),
    slipAnswers: REMINDER_ANSWERS,
  }
}

/** "sediment filter": by its kind, which never changes, so that a reprint says the same. */
const partWords = (stage: FrozenStage): string => stageName(stage).replace(/^the /, '')

/** "Sediment filter, 2 × carbon filter, polishing filter": equal ones counted. */
function inOneLine(names: readonly string[]): string {
  const counts = new Map<string, number>()
  for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1)
  return capital([...counts].map(([name, count]) => (count === 1 ? name : `${count} × ${name}`)).join(', '))
}
