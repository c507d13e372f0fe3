/** A customer who stays silent gets three letters. */
export type LetterStep = 'first' | 'second' | 'final'
const LETTER_STEPS: readonly LetterStep[] = ['first', 'second', 'final']

/** What became of letters of one kind that are alike in this. */
export interface LetterOutcome {
  readonly kind: LetterStep
  /** Whole days until a visit was booked; for those still silent until the next letter, or until today. */
  readonly days: number
  readonly booked: boolean
  readonly letters: number
}

/** First letters, whatever letters followed. */
export interface FirstLetter {
  readonly daysAgo: number
  /** Null while nothing is booked. */
  readonly bookedAfter: number | null
  readonly letters: number
}

/** The office's own record of the last two years. */
export interface RepliesOnRecord {
  readonly outcomes: readonly LetterOutcome[]
  readonly firsts: readonly FirstLetter[]
  /** From the day of booking to the day of the visit. */
  readonly delays: readonly { readonly days: number; readonly visits: number }[]
  /** Households that get no letters: what they booked, how many of them are due today, and over how many days that was counted. */
  readonly unasked: { readonly bookings: number; readonly waiting: number; readonly days: number }
}

/** What the office expects before it has a record, and how it writes. */
export interface LetterManner {
  readonly secondAfterDays: number
  /** After the first. */
  readonly finalAfterDays: number
  /** Of a hundred first letters so many lead to a visit. */
  readonly percent: number
  /** As many letters of each kind as that figure weighs. */
  readonly weighs: number
  /** Visits are offered within so many days. */
  readonly daysOffered: number
}

export interface Replies {
  /** The chance that a household still silent books on the day, by whole days since its latest letter; none beyond the last. */
  readonly hazards: Readonly<Record<LetterStep, Float64Array>>
  /** The same for one that gets no letters, on any day from a lead before its due date. */
  readonly unasked: number
  /** The chance that a visit is so many days after its booking; adds up to 1. */
  readonly delays: Float64Array
}

/** Days since a letter that are reckoned alike begin here; people answer soon or hardly at all. */
export const SPANS: readonly number[] = [0, 7, 14, 28, 56, 112]
/** No letter is answered later than this. */
const LAST_DAY = 365
/** Without a record a letter is answered within four weeks. */
const USUAL_DAYS = 28
const LONGEST_DELAY = 60

/** A number of trials and of those that came up, whole or not. */
export interface Tried {
  readonly days: number
  readonly bookings: number
}

/**
 * How likely a booking is, day by day. Of each kind of letter and each span of days a Beta prior is put together with the record:
 * the prior is `weighs` letters that lead to visits as the office expects, evenly from the first letter on; of the record a letter
 * counts for just the days it had without an answer, so that young ones neither help nor harm.
 */
export function learnReplies(record: RepliesOnRecord, manner: LetterManner): Replies {
  const hazards = Object.fromEntries(
    LETTER_STEPS.map((kind) => {
      const own = record.outcomes.filter((outcome) => outcome.kind === kind)
      return [kind, hazardsBySpan(own, SPANS, priorOf(manner))]
    }),
  ) as Record<LetterStep, Float64Array>
  return { hazards, unasked: unaskedHazard(record.unasked, manner), delays: learnDelays(record.delays, manner) }
}

/**
 * The daily chance of a booking: bookings over household-days, alike within a span, beside a prior for each day. With spans of a
 * day and no prior this is one minus the step of the product-limit estimate.
 */
export function hazardsBySpan(
  outcomes: readonly LetterOutcome[],
  spans: readonly number[],
  prior: (day: number) => Tried,
): Float64Array {
  const tried = triedByDay(outcomes)
  const hazards = new Float64Array(LAST_DAY + 1)
  spans.forEach((from, at) => {
    const end = spans[at + 1] ?? LAST_DAY + 1
    let days = 0
    let bookings = 0
    for (let day = from; day < end; day++) {
      const own = tried[day] ?? { days: 0, bookings: 0 }
      const before = prior(day)
      days += own.days + before.days
      bookings += own.bookings + before.bookings
    }
    hazards.fill(days > 0 ? bookings / days : 0, from, end)
  })
  return hazards
}

/** For each day since the letter: households still silent at its beginning, and those that booked on it. */
function triedByDay(outcomes: readonly LetterOutcome[]): Tried[] {
  const ends = new Float64Array(LAST_DAY + 2)
  const bookings = new Float64Array(LAST_DAY + 1)
  let silent = 0
  for (const { days, booked, letters } of outcomes) {
    silent += letters
    const isSeen = booked && days <= LAST_DAY
    if (isSeen) bookings[days] = (bookings[days] ?? 0) + letters
    const last = Math.min(isSeen ? days + 1 : days, LAST_DAY + 1)
    ends[last] = (ends[last] ?? 0) + letters
  }
  return Array.from(bookings, (count, day) => {
    silent -= ends[day] ?? 0
    return { days: silent, bookings: count }
  })
}

/** The days after each letter within which an answer is expected. */
export function usualDays({ secondAfterDays, finalAfterDays }: LetterManner): number {
  return Math.max(USUAL_DAYS, secondAfterDays, finalAfterDays - secondAfterDays)
}

/** The even daily chance at which, letters written on time, `percent` of the households book. */
export function evenHazard(manner: LetterManner): number {
  const days = Math.max(1, manner.finalAfterDays + usualDays(manner))
  return 1 - (1 - Math.min(0.995, manner.percent / 100)) ** (1 / days)
}

function priorOf(manner: LetterManner): (day: number) => Tried {
  const hazard = evenHazard(manner)
  const usual = usualDays(manner)
  return (day) => {
    const silent = manner.weighs * (1 - hazard) ** Math.min(day, usual)
    return { days: silent, bookings: day < usual ? silent * hazard : 0 }
  }
}

/**
 * Of households that get no letters only bookings are on record, not how many were due: as many as today are taken to have been due
 * all along. The prior is `weighs` households that answer like those with letters.
 */
function unaskedHazard({ bookings, waiting, days }: RepliesOnRecord['unasked'], manner: LetterManner): number {
  const even = evenHazard(manner)
  const expected = (manner.weighs * manner.percent) / 100
  const usual = even > 0 ? expected / even : manner.weighs * usualDays(manner)
  const tried = waiting * days + usual
  return tried > 0 ? Math.min(1, (bookings + expected) / tried) : 0
}

/** Without a record any of the days offered is as likely as the others. */
function learnDelays(delays: RepliesOnRecord['delays'], { weighs, daysOffered }: LetterManner): Float64Array {
  const chances = new Float64Array(LONGEST_DELAY + 1)
  const add = (day: number, visits: number): void => {
    const at = Math.min(LONGEST_DELAY, Math.max(0, day))
    chances[at] = (chances[at] ?? 0) + visits
  }
  const offered = Math.max(1, daysOffered)
  for (let day = 1; day <= offered; day++) add(day, Math.max(weighs, 1) / offered)
  for (const { days, visits } of delays) add(days, visits)
  const sum = chances.reduce((total, chance) => total + chance, 0)
  return chances.map((chance) => chance / sum)
}
