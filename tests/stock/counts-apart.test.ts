import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type Office, openOffice } from '../../core/office.ts'
import type { CountRound, WeekToCount } from '../../core/stock/count-contract.ts'
import { weekToCount } from '../../core/stock/what-to-count-answers.ts'
import { writeManyMovements } from '../bench/many-movements.ts'
import { clockAt } from '../builders/an-office.ts'

const folder = mkdtempSync(join(tmpdir(), 'penstock counts '))
const file = join(folder, 'books.sqlite')
beforeAll(() => writeManyMovements(file, { movements: 12_000, parts: 40, lots: 4_000, places: 60 }), 60_000)
afterAll(() => rmSync(folder, { recursive: true, force: true }))

async function ask<Answer>(office: Office, path: string, input?: unknown): Promise<Answer> {
  const headers = { 'content-type': 'application/json', 'penstock-who': 'Bram' }
  const body = JSON.stringify({ json: input })
  const response = await office.handle(new Request(`http://office/rpc/${path}`, { method: 'POST', headers, body }))
  const { json } = (await response.json()) as { json: Answer }
  return json
}

test('STK-47 in a large warehouse the week to count is chosen apart, the same as anywhere, and others are answered meanwhile; its round is begun there too', async () => {
  const opened = await openOffice({ database: file, clock: clockAt('2026-12-01'), log: () => {}, threads: 'worker' })
  if (!opened.ok) throw new Error(opened.problem.sentence)
  const office = opened.value
  try {
    const over: string[] = []
    const [week] = await Promise.all([
      ask<WeekToCount>(office, 'counts/week').finally(() => over.push('the week')),
      ask(office, 'counts/rounds').finally(() => over.push('the rounds')),
    ])
    expect(over).toEqual(['the rounds', 'the week'])
    expect(week.heaps).toHaveLength(40)
    expect(week.waiting).toBeGreaterThan(3_000)
    const desk = office.desk()
    expect(week).toEqual(await weekToCount(desk))
    const begin = { name: 'December', scope: { of: 'week' } }
    expect(await ask(office, 'counts/begin', begin)).toMatchObject({ lines: 40 })
    expect(await ask(office, 'counts/begin', begin)).toMatchObject({ data: { code: 'COUNT_NAME_TAKEN' } })
    const [round] = await ask<CountRound[]>(office, 'counts/rounds')
    expect(round).toMatchObject({ name: 'December', lines: 40, begunBy: 'Bram' })
    // What the round has is not asked for twice, and the week's room is taken.
    expect(await ask(office, 'counts/week')).toMatchObject({ heaps: [], counted: 40, waiting: week.waiting })
    expect(await ask(office, 'counts/begin', { ...begin, name: 'again' })).toMatchObject({
      data: { code: 'COUNT_NOTHING_THERE' },
    })
  } finally {
    await office.close()
  }
}, 60_000)
