import { implement } from '@orpc/server'
import { z } from 'zod'
import { type Asking, answer, type Desk, type KeptQuestion, type PaperAnswer } from '../answering.ts'
import type { ReadDb } from '../database/handles.ts'
import { ok, type Result, refused } from '../result.ts'
import { findOffice } from '../settings/office-store.ts'
import { readSettings } from '../settings/settings-store.ts'
import { balancesOf } from '../stock/ledger.ts'
import { tallyOn } from '../stock/on-hand-answers.ts'
import { listParts } from '../stock/parts-store.ts'
import { listPlaces } from '../stock/places-store.ts'
import { liesMuch } from '../stock/what-to-count-answers.ts'
import { restingAfter, worth } from '../stock/worth.ts'
import { writeWorthPaper } from '../stock/worth-paper.ts'
import { type Worth, worthSchema } from '../stock/worth-shapes.ts'
import { deliveriesUntil, lastUsed, lotsWithCost, pullRecords } from '../stock/worth-store.ts'
import { worthInWords } from '../stock/worth-words.ts'
import { addDays, type CalendarDate, calendarDate, calendarDateSchema, isCalendarDate } from '../units/calendar-date.ts'
import { shortDate } from '../units/date-words.ts'
import { hasManyStages } from './demand-store.ts'
import { expectedUse } from './expected-use-answers.ts'
import { worthContract } from './worth-contract.ts'

type Asked = Asking & { readonly read: ReadDb }

export const pastDaySchema = z.object({ on: calendarDateSchema, restAfterDays: z.int() })
type PastDay = z.infer<typeof pastDaySchema>

const EXPIRY_DAYS = 90
const FILL_DAYS = 90
const USUAL_REST_DAYS = 180
/** From so many stages on it is reckoned apart, like the proposals: what is to come takes the time. */
const MANY_STAGES = 20_000

/** Today's worth, kept until something is written. */
export const keptWorth: KeptQuestion<Worth> = {
  name: 'stock-worth',
  output: worthSchema,
  isLarge: ({ read, officeId }) => hasManyStages(read, officeId, MANY_STAGES),
  reckon: (asked) => reckonWorth(asked, asked.today, USUAL_REST_DAYS),
}

async function reckonWorth(asked: Asked, on: CalendarDate, restAfterDays: number): Promise<Worth> {
  const { read, officeId, today } = asked
  const fillSince = addDays(on, -FILL_DAYS)
  const parts = await listParts(read, officeId)
  const figures = worth({
    on,
    today,
    restAfterDays,
    expiryDays: EXPIRY_DAYS,
    fillSince,
    parts: parts.map(({ partId, number, name, closedOn }) => ({ partId, number, name, closed: closedOn !== null })),
    lots: await lotsWithCost(read, officeId),
    places: await listPlaces(read, officeId),
    heaps: balancesOf(await tallyOn(asked, on)),
    deliveries: await deliveriesUntil(read, officeId, on),
    usedOn: await lastUsed(read, officeId, on),
    use: on === today ? await expectedUse(asked) : null,
    pulls: await pullRecords(read, officeId, { from: fillSince, until: on }),
  })
  return { ...figures, sentences: worthInWords(figures, await readSettings(read, officeId)) }
}

/** Of a day that is past; where much lies in a thread of its own. */
async function worthOfPast(desk: Desk, input: PastDay): Promise<Result<Worth>> {
  if (desk.apart === null || !(await liesMuch(desk))) return worthOn(desk, input)
  const reckoned = await desk.apart('stock-worth-on', input)
  return reckoned.ok ? ok(worthSchema.parse(reckoned.value)) : reckoned
}

export async function worthOn(asked: Asked, { on, restAfterDays }: PastDay): Promise<Result<Worth>> {
  return ok(await reckonWorth(asked, on, restAfterDays))
}

async function show(
  desk: Desk,
  { on, restAfterDays }: { on: CalendarDate | null; restAfterDays: number },
): Promise<Result<Worth>> {
  const settings = await readSettings(desk.read, desk.officeId)
  if (on !== null && on > desk.today) return refused('STOCK_DATE_TO_COME', { date: shortDate(on, settings.locale) })
  if (on !== null && on < desk.today) return worthOfPast(desk, { on, restAfterDays })
  const figures = restingAfter(await desk.kept.ask(keptWorth, desk), restAfterDays)
  return ok({ ...figures, sentences: worthInWords(figures, settings) })
}

const door = implement(worthContract).$context<Desk>()
export const worthAnswers = door.router({ show: door.show.handler(answer(show)) })

/** `/papers/worth/2026-12-01.pdf?rest=180`: what the stock is worth on a day, to carry to whoever does the accounts. */
export const worthPaper: PaperAnswer = {
  address: '/papers/worth/:day',
  make: async (desk, { day = '' }, query) => {
    if (!isCalendarDate(day)) return refused('PAPER_UNKNOWN')
    const rest = Number(query.get('rest') ?? USUAL_REST_DAYS)
    const restAfterDays = Number.isInteger(rest) && rest > 0 ? rest : USUAL_REST_DAYS
    const found = await show(desk, { on: calendarDate(day), restAfterDays })
    if (!found.ok) return found
    const { locale, pageSize, currency } = await readSettings(desk.read, desk.officeId)
    const office = await findOffice(desk.read, desk.officeId)
    const title = `What the stock is worth on ${shortDate(found.value.on, locale)}`
    const facts = { title, officeName: office?.name ?? '', locale, pageSize, printedOn: desk.today, madeAt: desk.now }
    return ok({
      fileName: `stock-worth-${day}.pdf`,
      contentType: 'application/pdf',
      write: async (sink) => {
        await writeWorthPaper(found.value, currency, facts, sink)
      },
    })
  },
}
