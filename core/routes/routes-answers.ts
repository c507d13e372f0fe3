import { implement } from '@orpc/server'
import { answer, type Desk, type PaperAnswer, type ReadyPaper } from '../answering.ts'
import type { PaperFacts } from '../paper/paper.ts'
import { ok, type Result, refused } from '../result.ts'
import type { OfficeSettings } from '../settings/office-settings.ts'
import { findOffice } from '../settings/office-store.ts'
import { readSettings } from '../settings/settings-store.ts'
import { calendarDate, isCalendarDate } from '../units/calendar-date.ts'
import { weekdayAndDate } from '../units/date-words.ts'
import { technicianIdSchema, visitIdSchema } from '../units/ids.ts'
import { type JobCard, writeJobCards } from '../visits/job-card-paper.ts'
import { readVisits } from '../visits/visit-detail-store.ts'
import { type DayWanted, orderByHand, readDay, workOutOrder } from './day-order-answers.ts'
import { writeRoutes } from './route-paper.ts'
import { type Route, routesContract } from './routes-contract.ts'

async function day(desk: Desk, wanted: DayWanted): Promise<Result<Route[]>> {
  return ok((await readDay(desk, wanted)).routes)
}

const door = implement(routesContract).$context<Desk>()
export const routesAnswers = door.router({
  day: door.day.handler(answer(day)),
  order: door.order.handler(answer(orderByHand)),
  workOut: door.workOut.handler(answer(workOutOrder)),
})

function dayOfAddress(text: string, query: URLSearchParams): Result<DayWanted> {
  if (!isCalendarDate(text)) return refused('PAPER_UNKNOWN', { address: text })
  const technician = technicianIdSchema.safeParse(Number(query.get('technician') ?? Number.NaN))
  return ok({ on: calendarDate(text), technicianId: technician.success ? technician.data : null })
}

async function factsOf(desk: Desk, settings: OfficeSettings, title: string): Promise<PaperFacts> {
  const office = await findOffice(desk.read, desk.officeId)
  return {
    title,
    officeName: office?.name ?? '',
    locale: settings.locale,
    pageSize: settings.pageSize,
    printedOn: desk.today,
    madeAt: desk.now,
  }
}

const pdf = (fileName: string, write: ReadyPaper['write']): Result<ReadyPaper> =>
  ok({ fileName, contentType: 'application/pdf', write })

const jobCardsOfDay: PaperAnswer = {
  address: '/papers/visits/:day',
  make: async (desk, names, query) => {
    const wanted = dayOfAddress(names.day ?? '', query)
    if (!wanted.ok) return wanted
    const { routes, unsent, settings } = await readDay(desk, wanted.value)
    const cards: JobCard[] = [
      ...routes.flatMap((route) =>
        route.stops.map(({ visit, stop, arrivesAt }) => ({ visit, stop, stops: route.stops.length, arrivesAt })),
      ),
      ...unsent.map((visit) => ({ visit, stop: null, stops: 0, arrivesAt: null })),
    ]
    const title = `Job cards for ${weekdayAndDate(wanted.value.on, settings.locale)}`
    const facts = await factsOf(desk, settings, title)
    return pdf(`job-cards-${wanted.value.on}.pdf`, (sink) => writeJobCards(cards, settings.measures, facts, sink))
  },
}

const jobCardOfVisit: PaperAnswer = {
  address: '/papers/job-cards/:visit',
  make: async (desk, names) => {
    const id = visitIdSchema.safeParse(Number(names.visit))
    if (!id.success) return refused('PAPER_UNKNOWN', { address: names.visit ?? '' })
    const settings = await readSettings(desk.read, desk.officeId)
    const room = { db: desk.read, officeId: desk.officeId, today: desk.today, measures: settings.measures }
    const visit = (await readVisits(room, { visitId: id.data }))[0]
    if (!visit) return refused('RECORD_GONE', { what: 'This visit' })
    const route = (
      await readDay(desk, { on: visit.on, technicianId: visit.technician?.technicianId ?? null })
    ).routes.at(0)
    const stop = route?.stops.find((one) => one.visit.visitId === visit.visitId)
    const card: JobCard = {
      visit,
      stop: stop?.stop ?? null,
      stops: route?.stops.length ?? 0,
      arrivesAt: stop?.arrivesAt ?? null,
    }
    const facts = await factsOf(desk, settings, `Job card ${visit.household.reference}`)
    return pdf(`job-card-${visit.household.reference || visit.visitId}.pdf`, (sink) =>
      writeJobCards([card], settings.measures, facts, sink),
    )
  },
}

const routesOfDay: PaperAnswer = {
  address: '/papers/routes/:day',
  make: async (desk, names, query) => {
    const wanted = dayOfAddress(names.day ?? '', query)
    if (!wanted.ok) return wanted
    const { routes, settings } = await readDay(desk, wanted.value)
    const facts = await factsOf(desk, settings, `Routes for ${weekdayAndDate(wanted.value.on, settings.locale)}`)
    return pdf(`routes-${wanted.value.on}.pdf`, (sink) => writeRoutes(routes, facts, sink))
  },
}

export const routesPapers: readonly PaperAnswer[] = [jobCardsOfDay, jobCardOfVisit, routesOfDay]
