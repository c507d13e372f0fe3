import { describe, expect, test } from 'vitest'
import { demoWork } from '../../core/demo/demo-work.ts'
import { anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

const households = 60

describe.each(databases)('the demo office on $name', ({ open }) => {
  test('DEMO-1 it is written once, into empty books, and hangs together', async () => {
    const office = await anOffice(await open(), '2026-11-25', false)
    const desk = { ...office.desk(), progress: async () => true }
    const made = await demoWork.run(desk, { households })
    expect(made).toMatchObject({ ok: true, value: { households } })
    const db = office.database.write
    const dueSites = await db
      .selectFrom('sites')
      .select('id')
      .where('due_on', 'is not', null)
      .where('closed_on', 'is', null)
      .execute()
    expect(dueSites.length).toBeGreaterThan(households / 2)
    const fits = await db.selectFrom('movements').select('visit_id').where('reason', '=', 'fit').execute()
    const fitted = await db.selectFrom('visit_tasks').select('id').where('fitted_lot_id', 'is not', null).execute()
    expect(fits.length).toBeGreaterThanOrEqual(fitted.length)
    const numbers = await db
      .selectFrom('invoices')
      .select(['year', 'number'])
      .where('state', '=', 'issued')
      .orderBy('year')
      .orderBy('number')
      .execute()
    for (const [index, { year, number }] of numbers.entries()) {
      const before = numbers[index - 1]
      expect(number).toBe(before && before.year === year ? Number(before.number) + 1 : 1)
    }
    expect(await demoWork.run(desk, { households })).toMatchObject({ ok: false, problem: { code: 'OFFICE_EXISTS' } })
  }, 60_000)

  test('DEMO-2 stopped half way, nothing of it stays', async () => {
    const office = await anOffice(await open(), '2026-11-25', false)
    let steps = 0
    const progress = async () => {
      steps += 1
      return steps < 4
    }
    const stopped = await demoWork.run({ ...office.desk(), progress }, { households })
    expect(stopped).toMatchObject({ ok: false, problem: { code: 'WORK_STOPPED' } })
    expect(await office.database.write.selectFrom('offices').select('id').execute()).toEqual([])
  }, 60_000)
})
