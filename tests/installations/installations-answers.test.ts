import { describe, expect, test } from 'vitest'
import type { HouseholdSheet } from '../../core/due/due-contract.ts'
import { newStage, someCustomer, someSite, someUnit } from '../builders/a-household.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

async function aUnit(office: AnOffice) {
  const { siteId } = (await office.ask('households/create', { customer: someCustomer(), site: someSite() })).json as {
    siteId: number
  }
  const stages = [
    newStage('sediment', '2026-05-09'),
    newStage('carbon', '2026-05-09'),
    newStage('membrane', '2026-05-09'),
    newStage('tank', '2026-05-09'),
  ]
  const { installationId } = (await office.ask('installations/create', { siteId, fields: someUnit(), stages }))
    .json as { installationId: number }
  const look = async () => {
    const sheet = (await office.ask('due/household', { siteId })).json as HouseholdSheet
    const unit = sheet.units.find((other) => other.installationId === installationId)
    return { sheet, unit, kinds: unit?.stages.map((stage) => stage.kind) ?? [] }
  }
  return { siteId, installationId, look }
}

describe.each(databases)('units on $name', ({ open }) => {
  test('CUST-8 stages are added, moved and taken out, and keep their facts', async () => {
    const office = await anOffice(await open())
    const { installationId, look } = await aUnit(office)
    const { unit } = await look()
    if (!unit) throw new Error('the unit is gone')
    const [sediment, carbon, membrane, tank] = unit.stages
    const stages = [
      carbon,
      sediment,
      membrane,
      newStage('post-carbon', '2026-06-01', { label: 'Polisher' }),
      tank,
    ].flatMap((stage) => stage ?? [])
    const seen = { fields: unit.fields, stages: unit.stages }
    expect((await office.ask('installations/save', { installationId, fields: unit.fields, stages, seen })).status).toBe(
      200,
    )
    const after = await look()
    expect(after.kinds).toEqual(['carbon', 'sediment', 'membrane', 'post-carbon', 'tank'])
    expect(after.unit?.stages[0]?.stageId).toBe(carbon?.stageId)
    expect(after.sheet.events[0]).toMatchObject({
      sentence: 'The unit under the kitchen sink was changed',
      details: 'polisher was added',
    })
    const fewer = after.unit?.stages.slice(1) ?? []
    await office.ask('installations/save', {
      installationId,
      fields: unit.fields,
      stages: fewer,
      seen: { fields: unit.fields, stages: after.unit?.stages ?? [] },
    })
    expect((await look()).kinds).toEqual(['sediment', 'membrane', 'post-carbon', 'tank'])
    expect((await look()).sheet.events[0]?.details).toBe('carbon was taken out')
  })

  test('CUST-8 any make-up is a unit: none, one, or the same stage three times', async () => {
    const office = await anOffice(await open())
    const { siteId } = await aUnit(office)
    for (const stages of [
      [],
      [newStage('other', null)],
      [newStage('carbon', null), newStage('carbon', '2026-01-01'), newStage('carbon', null)],
    ])
      expect(
        (
          await office.ask('installations/create', {
            siteId,
            fields: someUnit({ name: `unit of ${stages.length}` }),
            stages,
          })
        ).status,
      ).toBe(200)
    const sheet = (await office.ask('due/household', { siteId })).json as HouseholdSheet
    expect(sheet.units.map((unit) => unit.train.length)).toEqual([4, 0, 1, 3])
  })

  test('CUST-4 a unit changed by someone else meanwhile is not overwritten', async () => {
    const office = await anOffice(await open())
    const { installationId, look } = await aUnit(office)
    const { unit } = await look()
    if (!unit) throw new Error('the unit is gone')
    const seen = { fields: unit.fields, stages: unit.stages }
    const changed = unit.stages.map((stage) =>
      stage.kind === 'carbon' ? { ...stage, changedOn: '2026-11-30' } : stage,
    )
    await office.ask('installations/save', { installationId, fields: unit.fields, stages: changed, seen })
    const stale = await office.ask('installations/save', {
      installationId,
      fields: { ...unit.fields, note: 'behind the bin' },
      stages: unit.stages,
      seen,
    })
    expect(stale).toMatchObject({ status: 422, json: { data: { code: 'RECORD_CHANGED' } } })
    expect(JSON.stringify(stale.json)).toContain('carbon, last changed: 2026-11-30 (it was 2026-05-09)')
    const swapped = await office.ask('installations/save', {
      installationId,
      fields: unit.fields,
      stages: [...changed].reverse(),
      seen: { fields: unit.fields, stages: changed },
    })
    expect(swapped.status).toBe(200)
    expect((await look()).sheet.events[0]?.details).toBe('the stages stand in another order')
  })

  test('CUST-5 a unit that is taken out leaves the household, with its reason', async () => {
    const office = await anOffice(await open())
    const { siteId, installationId, look } = await aUnit(office)
    await office.ask('installations/remove', { installationId, reason: 'replaced by a new one' })
    const { sheet, unit } = await look()
    expect(unit).toBeUndefined()
    expect(sheet.events[0]?.sentence).toBe('The unit under the kitchen sink was taken out: replaced by a new one')
    const row = await office.database.write
      .selectFrom('sites')
      .select('due_on')
      .where('id', '=', siteId as never)
      .executeTakeFirst()
    expect(row?.due_on).toBeNull()
    expect(await office.ask('installations/remove', { installationId, reason: 'again' })).toMatchObject({
      status: 422,
      json: { data: { code: 'RECORD_GONE' } },
    })
    expect((await office.ask('installations/create', { siteId: 999, fields: someUnit(), stages: [] })).status).toBe(422)
  })
})
