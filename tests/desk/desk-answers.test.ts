import { describe, expect, test } from 'vitest'
import { likePart } from '../../core/desk/find-store.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { cents } from '../../core/units/money.ts'
import { anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

describe.each(databases)('the desk on $name', ({ open }) => {
  test('DESK-2 an office without households has nothing waiting', async () => {
    const office = await anOffice(await open())
    const { status, json } = await office.ask('desk/next')
    expect(status).toBe(200)
    expect(json).toHaveLength(7)
    expect(json).toEqual(expect.arrayContaining([expect.objectContaining({ tray: 'due', isWaiting: false })]))
  })

  test('DESK-4 the look-ahead has 52 weeks, and an office without households none of them filled', async () => {
    const office = await anOffice(await open())
    const { json } = await office.ask('desk/lookAhead')
    expect(json).toMatchObject({ households: 0, notPlanned: 0, peaks: null, late: { visits: 0 } })
    expect((json as { weeks: unknown[] }).weeks).toHaveLength(52)
  })

  test('DESK-5 the search finds a part by a piece of its number or its name', async () => {
    const office = await anOffice(await open())
    await office.database.write
      .insertInto('parts')
      .values({
        office_id: FIRST_OFFICE,
        number: 'P-1010',
        name: 'Carbon block, 10 in',
        stage_kind: 'carbon',
        gtin: '',
        price_cents: cents(2400),
        cost_cents: cents(900),
        note: '',
      })
      .execute()
    const { json } = await office.ask('desk/find', { typed: '1010' })
    expect(json).toEqual([expect.objectContaining({ kind: 'part', words: 'Carbon block, 10 in' })])
    const none = await office.ask('desk/find', { typed: '10%0' })
    expect(none.json).toEqual([])
  })
})

test('DESK-5 signs that a database reads as wildcards are taken as typed', () => {
  expect(likePart('50%_~')).toBe('%50~%~_~~%')
})
