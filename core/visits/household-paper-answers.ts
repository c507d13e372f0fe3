import type { Desk, PaperAnswer } from '../answering.ts'
import { householdSheet } from '../due/due-answers.ts'
import type { HouseholdSheet } from '../due/due-contract.ts'
import { type HouseholdPage, type UnitOnPage, writeHouseholdPage } from '../due/household-paper.ts'
import { householdParticulars, householdStanding, unitTitle } from '../due/household-words.ts'
import type { HouseholdMeasurements } from '../due/measurement-shapes.ts'
import { householdMeasurements } from '../due/readings-answers.ts'
import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import { ok, refused } from '../result.ts'
import type { OfficeSettings } from '../settings/office-settings.ts'
import { findOffice } from '../settings/office-store.ts'
import { readSettings } from '../settings/settings-store.ts'
import { addDays } from '../units/calendar-date.ts'
import { siteIdSchema } from '../units/ids.ts'
import { planOfHousehold } from './plan-answers.ts'
import { notesOfPlan, visitInWords } from './plan-notes.ts'
import type { HouseholdPlan } from './plan-shapes.ts'
import { minutesInWords } from './planned-minutes.ts'
import { drawVisits } from './visits-line.ts'

/** `/papers/household/41.pdf`: everything about one household that someone would carry. */
export const householdPaper: PaperAnswer = {
  address: '/papers/household/:site',
  make: async (desk, { site = '' }) => {
    const id = siteIdSchema.safeParse(Number(site))
    if (!id.success) return refused('PAPER_UNKNOWN', { address: site })
    const household = await householdSheet(desk, { siteId: id.data })
    if (!household.ok) return household
    const measurements = await householdMeasurements(desk, { siteId: id.data })
    if (!measurements.ok) return measurements
    const isClosed = household.value.closedOn !== null
    const plan = isClosed ? ok(null) : await planOfHousehold(desk, { siteId: id.data })
    if (!plan.ok) return plan
    const settings = await readSettings(desk.read, desk.officeId)
    const office = await findOffice(desk.read, desk.officeId)
    const page = pageOf(desk, household.value, measurements.value, plan.value, settings)
    const facts = {
      title: `${page.household}, ${page.reference}`,
      officeName: office?.name ?? '',
      locale: settings.locale,
      pageSize: settings.pageSize,
      printedOn: desk.today,
      madeAt: desk.now,
    }
    return ok({
      fileName: `household-${page.reference || site}.pdf`,
      contentType: 'application/pdf',
      write: (sink) => writeHouseholdPage(page, settings.measures, facts, sink),
    })
  },
}

function pageOf(
  { today }: Pick<Desk, 'today'>,
  household: HouseholdSheet,
  measurements: HouseholdMeasurements,
  plan: HouseholdPlan | null,
  settings: OfficeSettings,
): HouseholdPage {
  const [where = '', ...particulars] = householdParticulars(household, settings)
  return {
    household: household.customer.sortName,
    reference: household.reference,
    lines: [where, particulars.join(' · '), household.site.accessNote].filter((line) => line !== ''),
    standing: householdStanding(household, settings.locale),
    units: household.units.map((unit) => unitOnPage(unit, measurements, plan, { today, locale: settings.locale })),
    marks: measurements.marks,
    plan: plan && {
      next: plan.next,
      savings: plan.savings,
      sentences: plan.sentences,
      line: (width) => visitsLineOf({ today }, household, plan, settings, width),
      visits: plan.visits.map((visit) => ({
        on: visit.visitOn,
        latestOn: visit.latestOn,
        what: visitInWords(visit),
        minutes: minutesInWords(visit.minutes),
      })),
    },
  }
}

function unitOnPage(
  unit: HouseholdSheet['units'][number],
  measurements: HouseholdMeasurements,
  plan: HouseholdPlan | null,
  manner: Parameters<typeof notesOfPlan>[1],
): UnitOnPage {
  const next = new Set(plan?.visits[0]?.changes.map((change) => change.stageId))
  const notes = plan ? notesOfPlan(plan, manner) : null
  return {
    title: unitTitle(unit.fields),
    train: unit.train.map((stage) => ({ ...stage, ringed: next.has(stage.stageId) })),
    rows: unit.train.map((stage) => ({
      label: stage.label,
      changedOn: unit.stages.find((one) => one.stageId === stage.stageId)?.changedOn ?? null,
      dueOn: stage.dueOn,
      reason: stage.reason,
      plan: notes?.get(stage.stageId) ?? '',
    })),
    measurements: measurements.units.find((one) => one.installationId === unit.installationId) ?? null,
  }
}

function visitsLineOf(
  { today }: Pick<Desk, 'today'>,
  household: HouseholdSheet,
  plan: HouseholdPlan,
  { graceDays, locale }: OfficeSettings,
  width: number,
) {
  const stages = household.units.flatMap((unit) =>
    unit.train.map(({ stageId, label, kind, dueOn }) => ({
      stageId,
      label,
      unit: household.units.length > 1 ? unit.fields.name : '',
      dueOn,
      care: STAGE_KIND_WORDS[kind].care,
    })),
  )
  const isLate = stages.some((stage) => stage.dueOn !== null && stage.dueOn < today)
  const from = isLate ? addDays(today, -LATENESS_SHOWN_DAYS) : today
  return drawVisits({ from, until: plan.horizonOn, stages, visits: plan.visits, graceDays, locale }, width)
}

const LATENESS_SHOWN_DAYS = 60
