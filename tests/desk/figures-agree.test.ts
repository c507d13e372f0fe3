import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { aMailedHousehold } from '../builders/a-mailed-household.ts'
import { aLot, aPart, aPlace, aSupplier } from '../builders/a-warehouse.ts'
import { anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

const TODAY = calendarDate('2026-12-01')

describe.each(databases)('the trays on $name', ({ open }) => {
  test('DESK-6 whatever stands in the books, the trays count what the sheets of letters and orders list', async () => {
    const households = fc.array(fc.record({ dueIn: fc.integer({ min: -200, max: 90 }), noMail: fc.boolean() }), {
      minLength: 1,
      maxLength: 12,
    })
    const office = await anOffice(await open(), TODAY)
    const { write } = office.database
    const bin = await aPlace(write, 'A-02-1', 10)
    let written = 0
    await fc.assert(
      fc.asyncProperty(households, fc.integer({ min: 0, max: 3 }), async (rows, least) => {
        for (const { dueIn, noMail } of rows) {
          written += 1
          await aMailedHousehold(office.database, { reference: `R-${written}`, dueOn: addDays(TODAY, dueIn), noMail })
        }
        written += 1
        const partId = await aPart(write, `P-${written}`)
        await aSupplier(write, `Supplier ${written}`, [{ partId, price: 100, packSize: 2 }])
        await aLot(write, { partId, code: `L-${written}`, placeId: bin, pieces: 1 })
        await write.updateTable('parts').set({ reorder_point: least }).where('id', '=', partId).execute()
        const trays = (await office.ask('desk/trays')).json as { tray: string; count: number }[]
        const countOf = (tray: string) => trays.find((each) => each.tray === tray)?.count
        const owed = (await office.ask('letters/owed')).json as { rows: unknown[] }
        const short = (await office.ask('orders/proposals')).json as { groups: { proposals: unknown[] }[] }
        expect(countOf('letters')).toBe(owed.rows.length)
        expect(countOf('orders')).toBe(short.groups.reduce((sum, group) => sum + group.proposals.length, 0))
      }),
      { numRuns: 6 },
    )
  }, 60_000)
})
