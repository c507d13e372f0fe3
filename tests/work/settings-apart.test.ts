import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { sql } from 'kysely'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openDatabase } from '../../core/database/open-books.ts'
import { type Office, openOffice } from '../../core/office.ts'
import type { SettingsSheet } from '../../core/settings/settings-contract.ts'
import { launchInOwnThread } from '../../core/work/own-thread.ts'
import { writeManyHouseholds } from '../bench/many-households.ts'
import { clockAt } from '../builders/an-office.ts'

const folder = mkdtempSync(join(tmpdir(), 'penstock apart '))
const file = join(folder, 'books.sqlite')
beforeAll(() => writeManyHouseholds(file, 3_000), 60_000)
afterAll(() => rmSync(folder, { recursive: true, force: true }))

async function ask(office: Office, path: string, input: unknown): Promise<{ status: number; json: unknown }> {
  const body = JSON.stringify({ json: input })
  const headers = { 'content-type': 'application/json' }
  const response = await office.handle(new Request(`http://office/rpc/${path}`, { method: 'POST', headers, body }))
  const { json } = (await response.json()) as { json: unknown }
  return { status: response.status, json }
}

const dueDates = async () => {
  const books = openDatabase(file)
  try {
    const { rows } = await sql<{ months: number }>`
      select count(*) as months from stages where due_reason like '9 months%'`.execute(books.write)
    return rows[0]?.months ?? 0
  } finally {
    await books.close()
  }
}

test('DUE-17 in a large office a change that all due dates follow is done apart: who asks for something else meanwhile is answered first', async () => {
  const opened = await openOffice({ database: file, clock: clockAt('2026-12-01'), log: () => {}, threads: 'worker' })
  if (!opened.ok) throw new Error(opened.problem.sentence)
  const office = opened.value
  try {
    const sheet = (await ask(office, 'settings/sheet', undefined)).json as SettingsSheet
    const rule = sheet.intervalRules.find((each) => each.stageKind === 'sediment')
    if (!rule) throw new Error('There is a rule for every kind')
    const over: string[] = []
    const [changed] = await Promise.all([
      ask(office, 'settings/changeInterval', {
        stageKind: 'sediment',
        rule: { ...rule, monthsMost: 9, monthsLeast: 9 },
      }).then((answered) => {
        over.push('the change')
        return answered
      }),
      ask(office, 'settings/sheet', undefined).then(() => over.push('the sheet')),
    ])
    expect([changed.status, changed.json]).toEqual([200, {}])
    expect(over).toEqual(['the sheet', 'the change'])
    expect(await dueDates()).toBeGreaterThan(1_000)
    const refused = await ask(office, 'settings/change', { name: 'usualPeople', from: 99, to: 3 })
    expect(refused).toMatchObject({ status: 422, json: { data: { code: 'SETTING_CHANGED' } } })
  } finally {
    await office.close()
  }
}, 60_000)

test('DUE-17 a work that nobody knows is refused, not waited for', async () => {
  const launch = launchInOwnThread(file, clockAt('2026-12-01'), 'the test', () => false)
  expect(await launch('no such work', {}, () => {}).finished).toMatchObject({ ok: false })
})
