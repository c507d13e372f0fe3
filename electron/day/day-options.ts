import { resolve } from 'node:path'
import { parseArgs } from 'node:util'
import { type CalendarDate, calendarDate, isCalendarDate } from '../../core/units/calendar-date.ts'

/** What the command line asked for. */
export interface DayOptions {
  readonly on: CalendarDate
  readonly out: string
  /** The books: a file or a postgres:// address; null for the demo office. */
  readonly data: string | null
}

export type ReadDayOptions =
  | { readonly kind: 'go'; readonly options: DayOptions }
  | { readonly kind: 'help' }
  | { readonly kind: 'wrong'; readonly sentence: string }

export const DAY_HELP = `Writes the papers of one day into a folder, without a window:

  npm run day -- --on 2026-12-01 --out FOLDER [--data FILE | --demo]

  --on DATE      the day, year first; today when left out
  --out FOLDER   where the papers go; it is made when it is not there
  --data FILE    the books: a file, or a postgres:// address; the user's own when left out
  --demo         on a fresh demo office instead
  --help         this text

In the folder: letters.pdf (the letters owed that day), pick-list.pdf, visits.pdf (one job card a page), invoices.pdf (issued that
day, and the drafts that stand ready), and day.json with counts, totals and shortages. The books are only read: letters are recorded
when they are written from the program, pulls when they are confirmed there.

Exit status: 0 all written, 1 it could not be done (nothing half written stays), 2 the words were not understood.
A paper that would be empty is left out, and day.json says so.`

/** Reads the words after `npm run day --`. `from` is the folder they were typed in; `usual` the user's own books. */
export function readDayOptions(
  words: readonly string[],
  from: string,
  today: CalendarDate,
  usual: string,
): ReadDayOptions {
  const parsed = parse(words)
  if (typeof parsed === 'string') return wrong(parsed)
  if (parsed.help) return { kind: 'help' }
  const on = parsed.on ?? today
  if (!isCalendarDate(on)) return wrong(`"${on}" is not a day of the calendar. Write it year first: --on 2026-12-01.`)
  if (!parsed.out) return wrong('Say where the papers go: --out FOLDER.')
  if (parsed.demo && parsed.data !== undefined) return wrong('Either --demo or --data, not both.')
  const data = parsed.demo ? null : (parsed.data ?? usual)
  const isServer = data !== null && /^postgres(ql)?:/.test(data)
  return {
    kind: 'go',
    options: {
      on: calendarDate(on),
      out: resolve(from, parsed.out),
      data: data === null || isServer ? data : resolve(from, data),
    },
  }
}

function parse(words: readonly string[]) {
  try {
    return parseArgs({
      args: [...words],
      options: {
        on: { type: 'string' },
        out: { type: 'string' },
        data: { type: 'string' },
        demo: { type: 'boolean', default: false },
        help: { type: 'boolean', default: false },
      },
    }).values
  } catch (error) {
    return error instanceof Error ? error.message : String(error)
  }
}

function wrong(sentence: string): ReadDayOptions {
  return { kind: 'wrong', sentence: `${sentence} (npm run day -- --help explains.)` }
}
