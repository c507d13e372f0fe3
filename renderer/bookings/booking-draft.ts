import type { OfficeSettings } from '../../core/settings/office-settings.ts'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import type { SiteId, StageId, TechnicianId } from '../../core/units/ids.ts'
import { type Minutes, minutes, type TimeOfDay, timeOfDay } from '../../core/units/time-of-day.ts'
import { type ProposedTask, proposeTasks } from '../../core/visits/propose-tasks.ts'
import type { StageShape, UnitShape, VisitShape } from '../../core/visits/visit-shapes.ts'
import type { WantedTask, WantedVisit } from '../../core/visits/visits-contract.ts'

/** What the booking form holds while it is typed. */
export interface BookingDraft {
  readonly on: CalendarDate | null
  readonly windowFrom: TimeOfDay | null
  readonly windowUntil: TimeOfDay | null
  /** Null: nobody yet. */
  readonly technicianId: TechnicianId | null
  /** Stages that were ticked or unticked by hand, against the proposal; by their keys. */
  readonly byHand: Readonly<Record<string, boolean>>
  readonly others: readonly OtherTask[]
  /** The office's own minutes for the whole visit; null: as built up from the tasks. */
  readonly ownMinutes: number | null
  readonly note: string
  readonly promised: boolean
  readonly setAside: boolean
  readonly why: string
}

export interface OtherTask {
  readonly kind: 'measure' | 'other'
  readonly description: string
  readonly minutes: number | null
}

export function newBooking(settings: OfficeSettings, technicianId: TechnicianId | null): BookingDraft {
  const from = settings.dayStartsAt
  return {
    on: null,
    windowFrom: from,
    windowUntil: timeOfDay(Math.min(1440, from + settings.arrivalWindowMinutes)),
    technicianId,
    byHand: {},
    others: [],
    ownMinutes: null,
    note: '',
    promised: true,
    setAside: false,
    why: '',
  }
}

/** A visit that is to be moved, as its form begins. Minutes that its tasks do not come to are the office's own. */
export function bookingOf(visit: VisitShape, callMinutes: number): BookingDraft {
  const builtUp = visit.tasks.reduce((sum, task) => sum + task.minutes, callMinutes)
  const stages = visit.units.flatMap((unit) => unit.stages)
  const planned = new Set(visit.tasks.map((task) => task.stageId))
  return {
    on: visit.on,
    windowFrom: visit.windowFrom,
    windowUntil: visit.windowUntil,
    technicianId: visit.technician?.technicianId ?? null,
    byHand: Object.fromEntries(stages.map((stage) => [stage.stageId, planned.has(stage.stageId)])),
    others: visit.tasks
      .filter((task) => task.stageId === null)
      .map((task) => ({
        kind: task.kind === 'measure' ? 'measure' : 'other',
        description: task.description,
        minutes: task.minutes,
      })),
    ownMinutes: visit.plannedMinutes === builtUp ? null : visit.plannedMinutes,
    note: visit.note,
    promised: visit.promised,
    setAside: false,
    why: '',
  }
}

export interface StageToPick {
  readonly stage: StageShape
  readonly proposal: ProposedTask
  readonly picked: boolean
}

/** The stages with what the plan proposes for the day, and what was ticked by hand. Until the plan is known, what is due by then. */
export function stagesToPick(
  units: readonly UnitShape[],
  draft: BookingDraft,
  today: CalendarDate,
  manner: { readonly graceDays: number; readonly locale: string },
  planned: readonly ProposedTask[],
): StageToPick[] {
  const stages = units.flatMap((unit) => unit.stages)
  const byDate = proposeTasks(stages, { visitOn: draft.on ?? today, ...manner })
  const byPlan = new Map(planned.map((proposal) => [proposal.stageId, proposal]))
  return stages.flatMap((stage, index) => {
    const proposal = byPlan.get(stage.stageId) ?? byDate[index]
    return proposal ? [{ stage, proposal, picked: draft.byHand[stage.stageId] ?? proposal.proposed }] : []
  })
}

/** The booking as the office is asked; null while a day or a window is missing. A task without words yet is not asked about, and holds up saving. */
export function wantedOf(siteId: SiteId, draft: BookingDraft, picks: readonly StageToPick[]): WantedVisit | null {
  const { on, windowFrom, windowUntil, technicianId } = draft
  if (on === null || windowFrom === null || windowUntil === null) return null
  return {
    siteId,
    technicianId,
    on,
    windowFrom,
    windowUntil,
    tasks: [
      ...picks.filter((pick) => pick.picked).map(taskOfPick),
      ...draft.others.filter((task) => !lacksWords(task)).map(taskOfOther),
    ],
    ownMinutes: draft.ownMinutes === null ? null : minutes(draft.ownMinutes),
    note: draft.note,
    promised: draft.promised,
  }
}

const NO_MINUTES: Minutes = minutes(0)

const taskOfPick = ({ stage, proposal }: StageToPick): WantedTask => ({
  kind: proposal.care,
  stageId: stage.stageId,
  description: '',
  minutes: NO_MINUTES,
})

const taskOfOther = (task: OtherTask): WantedTask => ({
  kind: task.kind,
  stageId: null,
  description: task.description,
  minutes: minutes(task.minutes ?? 0),
})

/** Whether a task would stand on the job card as nothing: it is asked about, never left out unsaid. */
export const lacksWords = (task: OtherTask): boolean => task.description.trim() === ''

/** The readings as a task of their own, for a call that changes nothing. */
export const READINGS: OtherTask = { kind: 'measure', description: 'Take the readings', minutes: 10 }

export const ringedBy = (picks: readonly StageToPick[]): ReadonlySet<StageId> =>
  new Set(picks.filter((pick) => pick.picked).map((pick) => pick.stage.stageId))
