import type { Result } from '../result.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { WorkStep } from './work.ts'

/** What a thread is started with. The clock's reading comes along: a thread never reads the clock itself. */
export interface ThreadStart {
  readonly database: string
  readonly today: CalendarDate
  readonly now: string
  readonly by: string
  readonly task: { readonly kind: 'work'; readonly name: string; readonly input: unknown } | { readonly kind: 'papers' }
}

/** To a working thread. */
export type ToThread =
  | { readonly kind: 'stop' }
  | {
      readonly kind: 'paper'
      readonly id: number
      readonly path: string
      readonly query: string
      readonly today: CalendarDate
      readonly now: string
    }
  | { readonly kind: 'more'; readonly id: number }
  | { readonly kind: 'drop'; readonly id: number }
  | { readonly kind: 'end' }

export interface PaperHead {
  readonly fileName: string
  readonly contentType: string
}

/** From a working thread. */
export type FromThread =
  | { readonly kind: 'step'; readonly step: WorkStep }
  | { readonly kind: 'result'; readonly result: Result<unknown> }
  | { readonly kind: 'broke'; readonly message: string }
  | { readonly kind: 'head'; readonly id: number; readonly head: Result<PaperHead> }
  | { readonly kind: 'chunk'; readonly id: number; readonly bytes: Uint8Array }
  | { readonly kind: 'paper-end'; readonly id: number }
  | { readonly kind: 'paper-broke'; readonly id: number; readonly message: string }
