import { sql } from 'kysely'
import { describe, expect, test } from 'vitest'
import { demoWork } from '../../core/demo/demo-work.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

interface Group {
  readonly cost: number
  readonly lacks: number
  readonly proposals: readonly { readonly order: number; readonly short: number }[]
}
interface Worth {
  readonly fill: Record<'piecesAsked' | 'piecesServed' | 'visits' | 'visitsWhole', number>
  readonly expiring: readonly unknown[]
}
interface Round {
  readonly countId: number
  readonly state: string
}

async function aDemo(office: AnOffice, households: number): Promise<void> {
  const made = await demoWork.run({ ...office.desk(), progress: async () => true }, { households })
  expect(made).toMatchObject({ ok: true })
}

async function asks<Answer>(office: AnOffice, path: string, input?: unknown): Promise<Answer> {
  const { status, json } = await office.ask(path, input)
  expect(status).toBe(200)
  return json as Answer
}

const [sqlite] = databases

describe('what is to be ordered in the demo office', () => {
  test.each(['2026-12-01', '2027-01-04', '2028-02-29'])(
    'DEMO-6 on %s three to eight parts are proposed, and an order is worth sending',
    async (day) => {
      if (!sqlite) throw new Error('There is no database')
      const office = await anOffice(await sqlite.open(), day, false)
      await aDemo(office, 600)
      const { groups } = await asks<{ groups: Group[] }>(office, 'orders/proposals')
      const proposed = groups.flatMap((group) => group.proposals)
      expect(proposed.length).toBeGreaterThanOrEqual(3)
      expect(proposed.length).toBeLessThanOrEqual(8)
      expect(proposed.filter(({ short }) => short > 0).length).toBeGreaterThanOrEqual(3)
      expect(groups.some(({ cost, lacks }) => lacks === 0 && cost >= 25_000)).toBe(true)
    },
    120_000,
  )
})

describe.each(databases)('the warehouse of the demo office on $name', ({ open }) => {
  test('DEMO-6 STK-41 STK-64 what lies there is the sum of the movements, pulls have a fill rate, and a round waits for approval', async () => {
    const office = await anOffice(await open(), '2026-12-01', false)
    await aDemo(office, 120)
    const db = office.database.write
    const off = await sql<{ pieces: unknown }>`
      select x.lot_id, x.place_id, sum(x.quantity) as pieces from (
        select lot_id, to_place_id as place_id, quantity from movements where to_place_id is not null
        union all select lot_id, from_place_id, -quantity from movements where from_place_id is not null
        union all select lot_id, place_id, -quantity from balances
      ) x group by x.lot_id, x.place_id having sum(x.quantity) <> 0`.execute(db)
    expect(off.rows).toEqual([])
    const { fill, expiring } = await asks<Worth>(office, 'worth/show', { on: null, restAfterDays: 180 })
    expect(fill.visits).toBeGreaterThan(20)
    expect(fill.visitsWhole).toBeLessThan(fill.visits)
    expect(fill.piecesServed / fill.piecesAsked).toBeGreaterThan(0.9)
    expect(expiring.length).toBe(1)
    expect(await asks<unknown[]>(office, 'stock/onTheWay')).toMatchObject([{ boundFor: 'van 3', quantity: 6 }])
    const rounds = await asks<Round[]>(office, 'counts/rounds')
    expect(rounds.map(({ state }) => state)).toEqual(['open', 'approved', 'approved', 'approved'])
    const countId = rounds[0]?.countId ?? 0
    const { lines } = await asks<{ lines: { difference: number }[] }>(office, 'counts/compare', { countId })
    expect(lines.filter(({ difference }) => difference !== 0).length).toBe(2)
    const { version } = await asks<{ version: number }>(office, 'counts/round', { countId })
    expect(await asks(office, 'counts/approve', { countId, version, note: '' })).toMatchObject({ movements: 2 })
  }, 120_000)
})
