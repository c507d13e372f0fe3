import type { Asking } from '../answering.ts'
import type { ReadDb } from '../database/handles.ts'
import type { OfficeSettings } from '../settings/office-settings.ts'
import { readSettings } from '../settings/settings-store.ts'
import { listParts, type PartRow } from '../stock/parts-store.ts'
import { addDays, type CalendarDate, daysBetween, laterOf } from '../units/calendar-date.ts'

import { comingDemand, type DueHousehold } from './coming-demand.ts'
import {
  bookedPieces,
  bookedVisits,
  fittedByDay,
  stagesDueByPart,
  stagesInWant,
  visitsDoneByDay,
} from './demand-store.ts'
import { lotsInHand, orderedPieces, promisedParts } from './holdings-store.ts'
import {
  bookingDelays,
  dueSites,
  firstVisitOn,
  latestLetters,
  lettersOnRecord,
  sparedCustomers,
  unaskedBookings,
  unitsInUse,
} from './letters-record-store.ts'
import { lettersRecord } from './letters-record-words.ts'
import { type LetterManner, learnReplies, type Replies } from './letters-to-visits.ts'
import { grouped } from './part-demand.ts'
import type { LettersRecord } from './proposal-shapes.ts'
import type { DailyPace } from './reorder-point.ts'
import { dailyPace } from './reorder-point.ts'
import type { ReorderInput, ReorderPart } from './reorder-shapes.ts'
import { repliesOf } from './replies-on-record.ts'
import { everBooks } from './reply-course.ts'
import { listSuppliers, listTerms } from './suppliers-store.ts'

export type AskedBooks = Pick<Asking, 'officeId' | 'today'> & { readonly read: ReadDb }

/** Letters are looked back at for so long, and at most so many of the latest: more would not make the chances any surer. */
const RECORD_DAYS = 730
const MOST_LETTERS = 20_000
/** The weeks ahead that are looked at, as far as no order takes longer. */
const DAYS_AHEAD = 83
const A_YEAR = 365

export interface ReorderFromBooks {
  readonly input: ReorderInput
  readonly record: LettersRecord
  readonly parts: readonly PartRow[]
}

/** All that reorder proposals rest on, from the books of this moment. */
export async function readReorderInput(asked: AskedBooks): Promise<ReorderFromBooks> {
  const { read, officeId, today } = asked
  const settings = await readSettings(read, officeId)
  const terms = await listTerms(read, officeId)
  const horizon = terms.reduce(
    (most, term) => Math.max(most, term.leadTimeDays + (term.reviewDays ?? settings.reviewPeriodDays)),
    Math.max(DAYS_AHEAD, settings.leadTimeDays + settings.reviewPeriodDays),
  )
  const until = addDays(today, horizon)
  const { coming, replies, record } = await readComing(asked, settings, horizon)
  const parts = (await listParts(read, officeId)).filter((part) => part.closedOn === null)
  const suppliers = await listSuppliers(read, officeId)
  const input: ReorderInput = {
    today,
    locale: settings.locale,
    currency: settings.currency,
    parts: await readParts(asked, { settings, parts, terms, ever: everBooks(replies, paceOf(settings)) }),
    booked: await bookedPieces(read, officeId, until),
    likely: coming.likely,
    visits: coming.visits,
    stock: await lotsInHand(read, officeId),
    promised: await promisedParts(read, officeId),
    incoming: await orderedPieces(read, officeId, 'sent'),
    drafted: await orderedPieces(read, officeId, 'draft'),
    suppliers: suppliers.map(({ supplierId, name, minimumOrder }) => ({ supplierId, name, minimumOrder })),
    leadTimeDays: settings.leadTimeDays,
    reviewPeriodDays: settings.reviewPeriodDays,
    orderCost: settings.orderCostCents,
    holdingPercent: settings.holdingPercent,
  }
  return { input, record, parts }
}

const paceOf = (settings: OfficeSettings) => ({
  firstLetterLeadDays: settings.firstLetterLeadDays,
  secondAfterDays: settings.secondLetterAfterDays,
  finalAfterDays: settings.finalLetterAfterDays,
})

const mannerOf = (settings: OfficeSettings): LetterManner => ({
  ...paceOf(settings),
  percent: settings.letterToVisitPercent,
  weighs: settings.letterFigureWeighs,
  daysOffered: settings.daysOffered,
})

/** Who may ask for what, by the office's own record of letters. */
async function readComing({ read, officeId, today }: AskedBooks, settings: OfficeSettings, horizon: number) {
  const { firstLetterLeadDays, graceDays } = settings
  const dueUntil = addDays(today, horizon + Math.max(firstLetterLeadDays, graceDays))
  const households = await readHouseholds({ read, officeId }, dueUntil)
  const lead = addDays(today, firstLetterLeadDays)
  const waiting = households.filter((each) => each.unasked && !each.gone && each.dueOn <= lead).length
  const learnt = await readReplies({ read, officeId, today }, settings, waiting)
  const coming = comingDemand({
    today,
    horizon,
    households,
    stages: await stagesInWant(read, officeId, addDays(today, horizon + graceDays)),
    units: await unitsInUse(read, officeId),
    letters: await latestLetters(read, officeId, dueUntil),
    booked: await bookedVisits(read, officeId, addDays(today, horizon)),
    replies: learnt.replies,
    pace: paceOf(settings),
    graceDays,
  })
  return { coming, ...learnt }
}

async function readHouseholds(
  { read, officeId }: Omit<AskedBooks, 'today'>,
  until: CalendarDate,
): Promise<DueHousehold[]> {
  const spared = new Map((await sparedCustomers(read, officeId)).map((each) => [each.customerId, each]))
  return (await dueSites(read, officeId, until)).map(({ unaddressed, ...site }) => {
    const own = spared.get(site.customerId)
    const unasked = own?.unasked === true || (unaddressed && own?.mailElsewhere !== true)
    return { ...site, unasked, gone: own?.gone === true }
  })
}

async function readReplies(
  { read, officeId, today }: AskedBooks,
  settings: OfficeSettings,
  waiting: number,
): Promise<{ replies: Replies; record: LettersRecord }> {
  const since = addDays(today, -RECORD_DAYS)
  const first: CalendarDate = (await firstVisitOn(read, officeId)) ?? today
  const unasked = {
    bookings: await unaskedBookings(read, officeId, since),
    waiting,
    days: Math.max(0, daysBetween(laterOf(since, first), today)),
  }
  const letters = await lettersOnRecord(read, officeId, since, MOST_LETTERS)
  const delays = await bookingDelays(read, officeId, addDays(today, -settings.paceDays))
  const onRecord = repliesOf(letters, delays, unasked, today)
  const manner = mannerOf(settings)
  const replies = learnReplies(onRecord, manner)
  return { replies, record: lettersRecord(onRecord, replies, manner) }
}

interface PartsFacts {
  readonly settings: OfficeSettings
  readonly parts: readonly PartRow[]
  readonly terms: Awaited<ReturnType<typeof listTerms>>
  /** The chance that a letter ever leads to a visit. */
  readonly ever: number
}

async function readParts(asked: AskedBooks, { settings, parts, terms, ever }: PartsFacts): Promise<ReorderPart[]> {
  const { read, officeId, today } = asked
  const since = addDays(today, -settings.paceDays)
  const used = await fittedByDay(read, officeId, since)
  const dueInYear = await stagesDueByPart(read, officeId, today, addDays(today, A_YEAR))
  const visits = pace(await visitsDoneByDay(read, officeId, since), settings.paceDays)
  const termsOf = grouped(terms)
  return parts.map((part) => ({
    partId: part.partId,
    name: part.name,
    perVisitQuantity: part.perVisitQuantity,
    leastToKeep: part.leastToKeep,
    serviceLevelPercent: part.serviceLevelPercent ?? settings.serviceLevelPercent,
    terms: termsOf.get(part.partId) ?? [],
    usedADay: pace(used.get(part.partId) ?? [], settings.paceDays),
    shelfMonths: part.shelfMonths,
    comingADay: ((dueInYear.get(part.partId) ?? 0) * ever) / A_YEAR + visits.mean * part.perVisitQuantity,
  }))
}

/** A pace over all days looked at: days on which nothing happened count as none. */
function pace(counts: readonly number[], days: number): DailyPace {
  if (counts.length === 0) return { mean: 0, deviation: 0 }
  return dailyPace([...counts, ...Array.from({ length: Math.max(0, days - counts.length) }, () => 0)])
}
