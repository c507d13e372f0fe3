import { z } from 'zod'
import type { Asking, KeptQuestion } from '../answering.ts'
import type { ReadDb } from '../database/handles.ts'
import type { LetterKind } from '../letters/letter-kinds.ts'
import { owedLetters } from '../letters/owed-letters.ts'
import { listMailedCustomers } from '../letters/owed-store.ts'
import { lateOrders } from '../orders/orders-store.ts'
import { reckonProposals } from '../orders/propose-answers.ts'
import type { OfficeSettings } from '../settings/office-settings.ts'
import { readSettings } from '../settings/settings-store.ts'
import { addDays, calendarDateSchema, mondayOf } from '../units/calendar-date.ts'
import { countWaiting, listWaiting } from '../visits/waiting-store.ts'
import {
  bookedByDay,
  draftInvoices,
  dueHouseholds,
  hasManyDue,
  nextBookedDay,
  vansToPull,
  visitsOfNobody,
} from './desk-store.ts'
import type { TrayFacts } from './tray-words.ts'

type Asked = Asking & { readonly read: ReadDb }

/** The Due tray looks four weeks ahead, as its screen first does. */
const DUE_DAYS = 28

async function factsOf(desk: Asked): Promise<TrayFacts> {
  const { read, officeId, today } = desk
  const settings = await readSettings(read, officeId)
  const letterUntil = addDays(today, settings.firstLetterLeadDays)
  const sunday = addDays(mondayOf(today), 6)
  const booked = await bookedByDay(read, officeId, sunday)
  const count = (from: string, until: string): number =>
    booked.reduce((sum, row) => sum + (row.day >= from && row.day <= until ? row.count : 0), 0)
  const drafts = await draftInvoices(read, officeId)
  return {
    today,
    locale: settings.locale,
    dueDays: DUE_DAYS,
    due: await dueHouseholds(read, officeId, addDays(today, DUE_DAYS)),
    letters: await lettersOwed(desk, settings),
    bookings: {
      count: await countWaiting(read, officeId, letterUntil, true),
      oldest: (await listWaiting(read, officeId, letterUntil, true, { after: null, limit: 1 }))[0]?.dueOn ?? null,
    },
    pull: await pullAhead(desk),
    visits: {
      thisWeek: count(mondayOf(today), sunday),
      today: count(today, today),
      unrecorded: count('0001-01-01', addDays(today, -1)),
    },
    invoices: { drafts: drafts.count, oldest: drafts.oldest },
    orders: {
      ...(await ordersLate(desk)),
      short: (await reckonProposals(desk)).groups.reduce((sum, group) => sum + group.proposals.length, 0),
    },
  }
}

async function ordersLate({ read, officeId, today }: Asked): Promise<Pick<TrayFacts['orders'], 'late' | 'oldest'>> {
  const { count: late, oldest } = await lateOrders(read, officeId, today)
  return { late, oldest }
}

/** The first day from today whose vans are not all pulled; when the next two days with visits are pulled, the second of them. */
async function pullAhead({ read, officeId, today }: Asked): Promise<TrayFacts['pull']> {
  const first = await nextBookedDay(read, officeId, today)
  if (first === null) return { day: null, vans: 0, nobody: 0 }
  const vans = await vansToPull(read, officeId, first)
  const second = vans > 0 ? null : await nextBookedDay(read, officeId, addDays(first, 1))
  const day = second ?? first
  const nobody = await visitsOfNobody(read, officeId, today, day)
  return { day, vans: second === null ? vans : await vansToPull(read, officeId, second), nobody }
}

/** Counted by the letters' own rule, so that the tray and its sheet never differ. */
async function lettersOwed(desk: Asked, settings: OfficeSettings): Promise<TrayFacts['letters']> {
  const { read, officeId, today } = desk
  const customers = await listMailedCustomers(read, officeId, addDays(today, settings.firstLetterLeadDays), today)
  const { owed } = owedLetters(customers, settings, today)
  const count = (kind: LetterKind): number => owed.filter((letter) => letter.kind === kind).length
  return { first: count('first'), second: count('second'), final: count('final') }
}

const count = z.int().min(0)
const day = calendarDateSchema.nullable()

const figuresSchema = z.object({
  today: calendarDateSchema,
  locale: z.string(),
  dueDays: count,
  due: z.object({ count, oldest: day }),
  letters: z.object({ first: count, second: count, final: count }),
  bookings: z.object({ count, oldest: day }),
  pull: z.object({ vans: count, day, nobody: count }),
  visits: z.object({ thisWeek: count, today: count, unrecorded: count }),
  invoices: z.object({ drafts: count, oldest: day }),
  orders: z.object({ short: count, late: count, oldest: day }),
})

/** From so many due households on the figures are reckoned apart. */
const MANY_DUE = 2_000

/** What lies in the trays: counted by the very rules of their sheets, kept until something is written. */
export const figures: KeptQuestion<TrayFacts> = {
  name: 'tray-figures',
  output: figuresSchema,
  isLarge: ({ read, officeId, today }) => hasManyDue(read, officeId, addDays(today, DUE_DAYS), MANY_DUE),
  reckon: factsOf,
}
