import { implement } from '@orpc/server'
import { answer, type Desk } from '../answering.ts'
import { ok } from '../result.ts'
import { workContract } from './work-contract.ts'
import type { WorkRunner } from './work-runner.ts'

/** Long work seen from a screen. */
export function workAnswers(runner: WorkRunner) {
  const door = implement(workContract).$context<Desk>()
  return door.router({
    start: door.start.handler(
      answer(async (desk, input: { name: string; input?: unknown }) =>
        ok({ workId: await desk.work.start(input.name, input.input) }),
      ),
    ),
    progress: door.progress.handler(answer(async (_desk, input: { workId: string }) => runner.progress(input.workId))),
    running: door.running.handler(answer(async () => ok(runner.running()))),
    stop: door.stop.handler(answer(async (_desk, input: { workId: string }) => runner.stop(input.workId))),
  })
}
