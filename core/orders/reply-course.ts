import type { LetterStep, Replies } from './letters-to-visits.ts'

/** Where a household without a booked visit stands in the row of its letters. */
export type HouseholdStanding =
  /** Days since its latest letter that counts. */
  | { readonly path: 'written'; readonly kind: LetterStep; readonly daysAgo: number }
  /** Its first letter goes out in so many days; 0 today. */
  | { readonly path: 'to-write'; readonly firstIn: number }
  /** Gets no letters: asked for none, or the post cannot find it. Days until it may call on its own. */
  | { readonly path: 'unasked'; readonly from: number }
  /** Moved or closed: nobody goes there. */
  | { readonly path: 'never' }

/** When letters follow on silence. */
export interface LetterPace {
  readonly secondAfterDays: number
  readonly finalAfterDays: number
}

/**
 * The chance of a booking on each day from today on, 0 to `days`, letters being written when they are owed; what is missing to 1 is
 * the chance that the household stays silent all that time.
 */
export function bookingCourse(
  standing: HouseholdStanding,
  replies: Replies,
  pace: LetterPace,
  days: number,
): Float64Array {
  const course = new Float64Array(days + 1)
  let silent = 1
  let letter = standing.path === 'written' ? { kind: standing.kind, since: standing.daysAgo } : null
  for (let day = 0; day <= days; day++) {
    if (letter === null && standing.path === 'to-write' && day >= standing.firstIn) letter = { kind: 'first', since: 0 }
    if (letter !== null) letter = nextLetter(letter, pace)
    const chance = letter
      ? (replies.hazards[letter.kind][letter.since] ?? 0)
      : standing.path === 'unasked' && day >= standing.from
        ? replies.unasked
        : 0
    course[day] = silent * chance
    silent *= 1 - chance
    if (letter !== null) letter = { ...letter, since: letter.since + 1 }
  }
  return course
}

interface Letter {
  readonly kind: LetterStep
  readonly since: number
}

function nextLetter(letter: Letter, { secondAfterDays, finalAfterDays }: LetterPace): Letter {
  const between = Math.max(0, finalAfterDays - secondAfterDays)
  if (letter.kind === 'first' && letter.since >= secondAfterDays) return { kind: 'second', since: 0 }
  if (letter.kind === 'second' && letter.since >= between) return { kind: 'final', since: 0 }
  return letter
}

/** The chance that the household was visited by each day from today on, 0 to `days`: booked, and as long after that as visits take. */
export function visitedBy(standing: HouseholdStanding, replies: Replies, pace: LetterPace, days: number): Float64Array {
  const booked = bookingCourse(standing, replies, pace, days)
  const visited = new Float64Array(days + 1)
  booked.forEach((chance, day) => {
    if (chance === 0) return
    const last = Math.min(replies.delays.length - 1, days - day)
    for (let later = 0; later <= last; later++)
      visited[day + later] = (visited[day + later] ?? 0) + chance * (replies.delays[later] ?? 0)
  })
  let sum = 0
  return visited.map((chance) => {
    sum = Math.min(1, sum + chance)
    return sum
  })
}

/** The chance that a household whose first letter goes out today ever books. */
export function everBooks(replies: Replies, pace: LetterPace): number {
  const course = bookingCourse({ path: 'to-write', firstIn: 0 }, replies, pace, pace.finalAfterDays + 365)
  return Math.min(
    1,
    course.reduce((sum, chance) => sum + chance, 0),
  )
}
