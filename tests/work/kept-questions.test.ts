import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { z } from 'zod'
import type { KeptQuestion } from '../../core/answering.ts'
import { markOfBooks } from '../../core/database/books-mark.ts'
import { openDatabase } from '../../core/database/open-books.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { openOffice } from '../../core/office.ts'
import { insertOffice } from '../../core/settings/office-store.ts'
import { addDays } from '../../core/units/calendar-date.ts'
import { KeptAnswers } from '../../core/work/kept-questions.ts'
import type { LaunchWork } from '../../core/work/work-runner.ts'
import { aPart } from '../builders/a-warehouse.ts'
import { anOffice, clockAt } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

/** A question that counts how often it was reckoned. */
function counting(isLarge = false): { question: KeptQuestion<number>; reckoned: () => number } {
  let times = 0
  return {
    reckoned: () => times,
    question: {
      name: 'parts',
      output: z.int(),
      isLarge: async () => isLarge,
      reckon: async ({ read, officeId }) => {
        times += 1
        return (await read.selectFrom('parts').where('office_id', '=', officeId).select('id').execute()).length
      },
    },
  }
}

describe.each(databases)('kept answers on $name', ({ open }) => {
  test('DESK-6 a kept answer is given again until something is written, and then it is the new one', async () => {
    const office = await anOffice(await open())
    const kept = new KeptAnswers(null)
    const { question, reckoned } = counting()
    const desk = office.desk()
    expect([await kept.ask(question, desk), await kept.ask(question, desk)]).toEqual([0, 0])
    expect(reckoned()).toBe(1)
    await aPart(office.database.write, 'P-1')
    expect([await kept.ask(question, desk), await kept.ask(question, desk)]).toEqual([1, 1])
    expect(reckoned()).toBe(2)
    await kept.ask(question, { ...desk, today: addDays(desk.today, 1) })
    expect(reckoned()).toBe(3)
  })

  test('DESK-6 the mark of the books stays while nothing is written, and changes with every write', async () => {
    const { database } = await anOffice(await open())
    const marks: string[] = []
    for (const number of ['P-1', 'P-2']) {
      const [before, again] = [
        await markOfBooks(database.read, database.dialect),
        await markOfBooks(database.read, database.dialect),
      ]
      expect(again).toBe(before)
      marks.push(before)
      await aPart(database.write, number)
    }
    marks.push(await markOfBooks(database.read, database.dialect))
    expect(new Set(marks).size).toBe(3)
  })
})

test('DESK-6 what breaks is not kept, and what is reckoned apart is shared by all who ask meanwhile', async () => {
  const { open } = databases[0] ?? { open: () => Promise.reject(new Error('no database')) }
  const office = await anOffice(await open())
  const { question } = counting(true)
  let launched = 0
  const launch: LaunchWork = () => {
    launched += 1
    const finished =
      launched === 1 ? Promise.reject(new Error('broke')) : Promise.resolve({ ok: true as const, value: 42 })
    return { finished, stop: () => {} }
  }
  const kept = new KeptAnswers(launch)
  const desk = office.desk()
  await expect(kept.ask(question, desk)).rejects.toThrow('broke')
  expect(await Promise.all([kept.ask(question, desk), kept.ask(question, desk)])).toEqual([42, 42])
  expect(launched).toBe(2)
  await kept.close()
})

test('DESK-6 in a large office the trays are reckoned in a thread of their own, from a file that others write to as well', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'penstock-kept-'))
  const file = join(folder, 'books.sqlite')
  const opened = await openOffice({ database: file, clock: clockAt('2026-12-01'), log: () => {}, threads: 'worker' })
  if (!opened.ok) throw new Error(opened.problem.sentence)
  const office = opened.value
  const books = openDatabase(file)
  try {
    await insertOffice(books.write, LARKMOOR)
    const desk = office.desk()
    const large: KeptQuestion<unknown> = {
      name: 'tray-figures',
      output: z.looseObject({ orders: z.object({ short: z.int() }) }),
      isLarge: async () => true,
      reckon: () => Promise.reject(new Error('reckoned here')),
    }
    expect(await desk.kept.ask(large, desk)).toMatchObject({ due: { count: 0 }, orders: { short: 0 } })
    const before = await markOfBooks(desk.read, desk.dialect)
    await aPart(books.write, 'P-1')
    expect(await markOfBooks(desk.read, desk.dialect)).not.toBe(before)
  } finally {
    await books.close()
    await office.close()
    rmSync(folder, { recursive: true, force: true })
  }
})

const LARKMOOR = {
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
  latitude: null,
  longitude: null,
  foundedAt: '2021-03-01T09:00:00.000Z',
}
