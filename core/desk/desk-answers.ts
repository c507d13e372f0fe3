import { implement } from '@orpc/server'
import { answer, type Desk } from '../answering.ts'
import { searchWordsOf } from '../customers/search-words.ts'
import type { LetterKind } from '../letters/letter-kinds.ts'
import { owedLetters } from '../letters/owed-letters.ts'
import { listMailedCustomers } from '../letters/owed-store.ts'
import { proposeFromBooks } from '../orders/propose-answers.ts'
import { ok, type Result } from '../result.ts'
import type { OfficeSettings } from '../settings/office-settings.ts'
import { readSettings } from '../settings/settings-store.ts'
import { addDays, mondayOf } from '../units/calendar-date.ts'
import { shortDate } from '../units/date-words.ts'
import { formatCents } from '../units/money.ts'
import { countWaiting, listWaiting } from '../visits/waiting-store.ts'
import { deskContract, type Found, type NextAction, type WeekAhead } from './desk-contract.ts'
import { bookedByDay, draftInvoices, dueHouseholds, nextBookedDay, stagesDueByDay, vansToPull } from './desk-store.ts'
import { findHouseholds, findInvoices, findOrders, findParts } from './find-store.ts'
import { nextActions, type TrayFacts, trayLine, weeksAhead } from './tray-words.ts'
import type { Tray } from './trays.ts'

/** The Due tray looks four weeks ahead, as its screen first does. */
const DUE_DAYS = 28
const WEEKS_AHEAD = 26

async function factsOf(desk: Desk): Promise<TrayFacts> {
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
      oldest: (await listWaiting(read, officeId, letterUntil, true))[0]?.dueOn ?? null,
    },
    pull: await pullAhead(desk),
    visits: {
      thisWeek: count(mondayOf(today), sunday),
      today: count(today, today),
      unrecorded: count('0001-01-01', addDays(today, -1)),
    },
    invoices: { drafts: drafts.count, oldest: drafts.oldest },
    orders: {
      short: (await proposeFromBooks({ read, officeId, today })).filter((proposal) => proposal.order > 0).length,
    },
  }
}

/** The first day from today whose vans are not all pulled; when the next two days with visits are pulled, the second of them. */
async function pullAhead({ read, officeId, today }: Desk): Promise<TrayFacts['pull']> {
  const first = await nextBookedDay(read, officeId, today)
  if (first === null) return { day: null, vans: 0 }
  const vans = await vansToPull(read, officeId, first)
  const second = vans > 0 ? null : await nextBookedDay(read, officeId, addDays(first, 1))
  return second === null ? { day: first, vans } : { day: second, vans: await vansToPull(read, officeId, second) }
}

/** Counted by the letters' own rule, so that the tray and its sheet never differ. */
async function lettersOwed(desk: Desk, settings: OfficeSettings): Promise<TrayFacts['letters']> {
  const { read, officeId, today } = desk
  const customers = await listMailedCustomers(read, officeId, addDays(today, settings.firstLetterLeadDays), today)
  const { owed } = owedLetters(customers, settings, today)
  const count = (kind: LetterKind): number => owed.filter((letter) => letter.kind === kind).length
  return { first: count('first'), second: count('second'), final: count('final') }
}

async function trays(desk: Desk): Promise<Result<Tray[]>> {
  return ok(trayLine(await factsOf(desk)))
}

async function next(desk: Desk): Promise<Result<NextAction[]>> {
  return ok(nextActions(await factsOf(desk)))
}

async function lookAhead(desk: Desk): Promise<Result<WeekAhead[]>> {
  const until = addDays(mondayOf(desk.today), WEEKS_AHEAD * 7 - 1)
  const stages = await stagesDueByDay(desk.read, desk.officeId, until)
  const visits = await bookedByDay(desk.read, desk.officeId, until)
  return ok(weeksAhead(desk.today, WEEKS_AHEAD, stages, visits))
}

async function find(desk: Desk, { typed }: { typed: string }): Promise<Result<Found[]>> {
  const words = searchWordsOf(typed)
  const bare = typed.trim()
  if (words.length === 0 || bare.length < 2) return ok([])
  const { read, officeId, dialect } = desk
  const { locale } = await readSettings(read, officeId)
  const households = await findHouseholds(read, dialect, officeId, words)
  const [invoices, parts, orders] = [
    await findInvoices(read, officeId, bare),
    await findParts(read, officeId, bare),
    await findOrders(read, officeId, bare),
  ]
  return ok([
    ...households.map(
      (row): Found => ({
        kind: 'household',
        id: row.siteId,
        words: row.name,
        below: joined(row.street, row.town, row.phone),
      }),
    ),
    ...invoices.map(
      (row): Found => ({
        kind: 'invoice',
        id: row.id,
        words: `${row.kind === 'invoice' ? 'Invoice' : 'Credit note'} ${row.number}`,
        below: joined(
          row.name,
          formatCents(row.gross, row.currency, locale),
          row.issuedOn === null ? '' : shortDate(row.issuedOn, locale),
        ),
      }),
    ),
    ...parts.map((row): Found => ({ kind: 'part', id: row.id, words: row.name, below: `part ${row.number}` })),
    ...orders.map((row): Found => ({ kind: 'order', id: row.id, words: `Order ${row.number}`, below: row.supplier })),
  ])
}

function joined(...pieces: readonly string[]): string {
  return pieces.filter((piece) => piece !== '').join(' · ')
}

const door = implement(deskContract).$context<Desk>()
export const deskAnswers = door.router({
  trays: door.trays.handler(answer((desk) => trays(desk))),
  next: door.next.handler(answer((desk) => next(desk))),
  lookAhead: door.lookAhead.handler(answer((desk) => lookAhead(desk))),
  find: door.find.handler(answer(find)),
})
