import { expect, test } from 'vitest'
import type { HouseholdPlan } from '../../core/visits/plan-shapes.ts'
import { aToldHome, reckonDueDates } from '../builders/a-told-home.ts'
import { anOffice } from '../builders/an-office.ts'
import { HARD_WATER, SOFT_WATER } from '../builders/four-told-homes.ts'
import { databases } from '../data/each-database.ts'

const openMemory = databases[0]?.open ?? (() => Promise.reject(new Error('no database')))

test('PLAN-2 a closed household is answered that nobody goes there, and its page is printed without a plan', async () => {
  const office = await anOffice(await openMemory())
  const { siteId } = await aToldHome(office.database, HARD_WATER)
  await reckonDueDates(office)
  const open = (await office.ask('visits/plan', { siteId })).json as HouseholdPlan
  expect(open.visits.length).toBeGreaterThan(3)
  const closed = await office.ask('households/close', { siteId, reason: 'sold the house' })
  expect(closed.status).toBe(200)
  const plan = await office.ask('visits/plan', { siteId })
  expect(plan.status).toBe(200)
  expect(plan.json).toMatchObject({ visits: [], next: 'This household is closed, so no visit is planned.' })
  expect(await office.ask('visits/proposal', { siteId, on: '2027-01-12' })).toEqual({ status: 200, json: [] })
  const page = await office.handle(new Request(`http://office/papers/household/${siteId}.pdf`))
  expect(page.status).toBe(200)
  expect((await office.ask('visits/plan', { siteId: 4711 })).json).toMatchObject({ data: { code: 'RECORD_GONE' } })
})

test('PLAN-14 a membrane that holds is not changed in the plan; one that falls is changed when its trend reaches the mark', async () => {
  const office = await anOffice(await openMemory())
  const soft = await aToldHome(office.database, SOFT_WATER)
  const hard = await aToldHome(office.database, HARD_WATER)
  await reckonDueDates(office)
  const plan = (await office.ask('visits/plan', { siteId: soft.siteId })).json as HouseholdPlan
  const membrane = soft.stageIds[2]
  expect(plan.visits.flatMap((visit) => visit.changes).some((change) => change.stageId === membrane)).toBe(false)
  expect(plan.notPlanned).toEqual([
    expect.objectContaining({
      label: 'Membrane',
      stays: true,
      why: 'still holds back 94 of 100: it is measured at every visit, and changed when it falls',
    }),
  ])
  const failing = (await office.ask('visits/plan', { siteId: hard.siteId })).json as HouseholdPlan
  const first = failing.visits.find((visit) => visit.changes.some((change) => change.stageId === hard.stageIds[2]))
  // Its trend reaches 75 of 100 in April 2027.
  expect(first?.visitOn).toMatch(/^2027-0[1-4]/)
  expect(failing.notPlanned).toEqual([])
})
