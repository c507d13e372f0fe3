import { afterEach } from 'vitest'
import type { OpenDatabase } from '../../core/database/handles.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { type Office, openOffice } from '../../core/office.ts'
import { insertOffice } from '../../core/settings/office-store.ts'
import { clockAt } from './clock-at.ts'

export { clockAt }

const toClose: Office[] = []
afterEach(async () => {
  for (const office of toClose.splice(0)) await office.close()
})

export interface AnOffice extends Office {
  readonly database: OpenDatabase
  /** Asks a procedure through the whole door, e.g. `ask('due/list', {...})`; a refusal comes back as its problem. */
  ask(path: string, input?: unknown): Promise<{ status: number; json: unknown }>
}

/** An open office on the given books, founded as Larkmoor Water, closed after the test; every answer is held against its contract. */
export async function anOffice(
  database: OpenDatabase,
  today = '2026-12-01',
  founded = true,
  checkAnswers = true,
): Promise<AnOffice> {
  const lines: string[] = []
  const opened = await openOffice({
    database,
    clock: clockAt(today),
    log: (line) => lines.push(line),
    threads: 'same',
    checkAnswers,
  })
  if (!opened.ok) throw new Error(opened.problem.sentence)
  const office = opened.value
  toClose.push(office)
  if (founded)
    await insertOffice(database.write, {
      id: FIRST_OFFICE,
      name: 'Larkmoor Water',
      line1: '4 Sluice Yard',
      line2: '',
      town: 'Tollard Mill',
      region: 'XX',
      postalCode: '00142',
      country: 'US',
      phone: '555-0100',
      email: 'office@larkmoor.example.com',
      isDemo: false,
      latitude: 44.98,
      longitude: -93.2,
      foundedAt: '2021-03-01T09:00:00.000Z',
    })
  return {
    ...office,
    database,
    ask: async (path, input) => {
      const request = new Request(`http://office/rpc/${path}`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ json: input }),
      })
      const response = await office.handle(request)
      const answered = (await response.json()) as { json: unknown }
      if (response.status >= 500) throw new Error(`The office broke: ${lines.join('\n')}`)
      return { status: response.status, json: answered.json }
    },
  }
}
