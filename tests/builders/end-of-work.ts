import type { AnOffice } from './an-office.ts'

export interface EndedWork {
  readonly state: string
  readonly outcome: unknown
}

/** Starts a long work and waits for its end. */
export async function endOfWork(office: AnOffice, name: string, input: unknown): Promise<EndedWork> {
  const { json } = await office.ask('work/start', { name, input })
  const { workId } = json as { workId: string }
  for (;;) {
    const ended = (await office.ask('work/progress', { workId })).json as EndedWork
    if (ended.state !== 'running') return ended
    await new Promise((resolve) => setImmediate(resolve))
  }
}
