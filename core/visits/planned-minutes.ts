import { type Minutes, minutes } from '../units/time-of-day.ts'

/** What takes time on a visit. */
export interface WorkToTime {
  readonly kind: 'change' | 'sanitise' | 'measure' | 'other'
  /** The part's own fitting time, where it has one. */
  readonly fitMinutes: number | null
  /** For other tasks: what the office reckons. */
  readonly ownMinutes: number
}

/** How long things take in this office; every figure is a setting. */
export interface Pace {
  readonly callMinutes: number
  readonly stageMinutes: number
  readonly sanitiseMinutes: number
}

export function minutesOfTask(task: WorkToTime, pace: Pace): Minutes {
  if (task.kind === 'change') return minutes(task.fitMinutes ?? pace.stageMinutes)
  if (task.kind === 'sanitise') return minutes(pace.sanitiseMinutes)
  return minutes(task.ownMinutes)
}

/**
 * Minutes at the site: the call itself (ring, look, set up, clear away, leak check), and each task. Driving is not in it.
 * `plannedMinutes([three filters], {20, 8, 25})` is 44.
 */
export function plannedMinutes(tasks: readonly WorkToTime[], pace: Pace): Minutes {
  return minutes(tasks.reduce((sum, task) => sum + minutesOfTask(task, pace), pace.callMinutes))
}

/** "44 min", "1 h", "2 h 05". */
export function minutesInWords(count: number): string {
  const hours = Math.floor(count / 60)
  const rest = count % 60
  if (hours === 0) return `${rest} min`
  return rest === 0 ? `${hours} h` : `${hours} h ${String(rest).padStart(2, '0')}`
}
