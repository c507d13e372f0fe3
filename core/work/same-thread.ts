import { setImmediate as turn } from 'node:timers/promises'
import type { Clock } from '../clock.ts'
import type { OpenDatabase } from '../database/handles.ts'
import { deskOf } from '../desk-of-office.ts'
import { refused } from '../result.ts'
import { WORKS } from '../works.ts'
import type { WorkStep } from './work.ts'
import type { LaunchWork } from './work-runner.ts'

/** Runs works in this very thread, on the office's own connection: for tests, the command line and PostgreSQL. */
export function launchInSameThread(database: OpenDatabase, clock: Clock, by: string): LaunchWork {
  return (name, input, step) => {
    let stopped = false
    const work = WORKS[name]
    const desk = deskOf(database, clock, by, {
      start: async () => Promise.reject(new Error('A work does not start another')),
    })
    const progress = async (at: WorkStep) => {
      step(at)
      await turn()
      return !stopped
    }
    const finished = work ? work.run({ ...desk, progress }, input) : Promise.resolve(refused('WORK_UNKNOWN'))
    return {
      finished,
      stop: () => {
        stopped = true
      },
    }
  }
}
