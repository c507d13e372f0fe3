import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { type Office, openOffice } from '../../core/office.ts'
import { matchAddress } from '../../core/work/find-paper.ts'
import type { WorkState } from '../../core/work/work-contract.ts'
import { clientOf } from '../../electron/day/day-summary.ts'
import { clockAt } from '../builders/an-office.ts'

let folder = ''
let office: Office
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'penstock work '))
  const opened = await openOffice({
    database: join(folder, 'books.sqlite'),
    clock: clockAt('2026-11-25'),
    log: () => {},
    threads: 'worker',
    checkAnswers: true,
  })
  if (!opened.ok) throw new Error(opened.problem.sentence)
  office = opened.value
})
afterEach(async () => {
  await office.close()
  await rm(folder, { recursive: true, force: true })
})

async function ended(workId: string, seen: (state: WorkState) => void = () => {}): Promise<WorkState> {
  for (;;) {
    const state = await clientOf(office).work.progress({ workId })
    seen(state)
    if (state.state !== 'running') return state
    await pause(20)
  }
}

test('WORK-1 long work runs in a thread of its own, says how far it is, and the office answers meanwhile', async () => {
  const ask = clientOf(office)
  const { workId } = await ask.work.start({ name: 'demo', input: { households: 40 } })
  expect(await ask.office.state()).toMatchObject({ today: '2026-11-25' })
  const said = new Set<string>()
  const state = await ended(workId, ({ saying }) => said.add(saying))
  expect(state).toMatchObject({ state: 'done', outcome: { households: 40 } })
  expect(said.size).toBeGreaterThan(1)
  expect(await ask.office.state()).toMatchObject({ founded: true, isDemo: true })
}, 60_000)

test('WORK-2 a work that is stopped leaves the books as they were', async () => {
  const ask = clientOf(office)
  const { workId } = await ask.work.start({ name: 'demo', input: { households: 600 } })
  await ask.work.stop({ workId })
  expect(await ended(workId)).toMatchObject({ state: 'stopped', problem: { code: 'WORK_STOPPED' } })
  expect(await ask.office.state()).toMatchObject({ founded: false })
}, 60_000)

test('WORK-3 a work or a paper that nobody knows is refused with a sentence', async () => {
  const ask = clientOf(office)
  const { workId } = await ask.work.start({ name: 'tidy the attic', input: null })
  expect(await ended(workId)).toMatchObject({ state: 'refused', problem: { code: 'WORK_UNKNOWN' } })
  await expect(ask.work.progress({ workId: 'gone' })).rejects.toMatchObject({
    code: 'REFUSED',
    data: { code: 'WORK_GONE' },
  })
  const paper = await office.handle(new Request('http://office/papers/attic.pdf'))
  expect([paper.status, await paper.json()]).toMatchObject([404, { code: 'PAPER_UNKNOWN' }])
})

test('WORK-4 papers are made in their own thread, whole, and can be dropped half way', async () => {
  const { workId } = await clientOf(office).work.start({ name: 'demo', input: { households: 120 } })
  await ended(workId)
  const address = 'http://office/papers/visits/2026-11-26.pdf'
  const dropped = await office.handle(new Request(address))
  await dropped.body?.cancel()
  const whole = await office.handle(new Request(address))
  expect(whole.headers.get('content-type')).toBe('application/pdf')
  const bytes = Buffer.from(await whole.arrayBuffer())
  expect(bytes.subarray(0, 5).toString()).toBe('%PDF-')
  expect(bytes.subarray(-6).toString()).toContain('%%EOF')
}, 60_000)

test('WORK-3 an address is matched segment by segment', () => {
  expect(matchAddress('/papers/letters/:run', '/papers/letters/12.pdf')).toEqual({ run: '12' })
  expect(matchAddress('/papers/letters/:run', '/papers/letters/12/13.pdf')).toBeNull()
  expect(matchAddress('/papers/letters/:run', '/papers/pull/12.pdf')).toBeNull()
})
