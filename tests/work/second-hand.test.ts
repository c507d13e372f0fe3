import { copyFileSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { sql } from 'kysely'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { SecondHand } from '../../core/answering.ts'
import { openDatabase } from '../../core/database/open-books.ts'
import { writeBooks } from '../../core/database/write-books.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { recomputeAllDueDates } from '../../core/due/recompute-answers.ts'
import { ok } from '../../core/result.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { secondHandFor } from '../../core/work/second-hand.ts'
import { newPile, takeTurn } from '../../core/work/turns.ts'
import { writeManyHouseholds } from '../bench/many-households.ts'

const HOUSEHOLDS = 4_000
const folder = mkdtempSync(join(tmpdir(), 'penstock second hand '))
const empty = join(folder, 'not reckoned.sqlite')

beforeAll(() => writeManyHouseholds(empty, HOUSEHOLDS), 60_000)
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** Every due date of the books, once they were reckoned with that second hand. */
async function reckonedWith(name: string, hand: (file: string) => SecondHand | undefined) {
  const file = join(folder, `${name}.sqlite`)
  copyFileSync(empty, file)
  const books = openDatabase(file)
  try {
    const now = '2026-12-01T12:00:00.000Z'
    const asking = { officeId: FIRST_OFFICE, today: calendarDate('2026-12-01'), now, by: '', dialect: books.dialect }
    const secondHand = hand(file)
    const changed = await writeBooks(books, asking, [], async (open) =>
      ok(await recomputeAllDueDates(open, { secondHand, sharedFrom: 1 })),
    )
    const { rows } = await sql`select id, due_on, due_rule, due_reason from stages order by id`.execute(books.write)
    const { rows: sites } = await sql`select id, due_on from sites order by id`.execute(books.write)
    const { rows: units } = await sql`select id, due_on from installations order by id`.execute(books.write)
    const { rows: indexes } = await sql`select name from sqlite_master where type = 'index' order by name`.execute(
      books.write,
    )
    return { changed, rows, sites, units, indexes }
  } finally {
    await books.close()
  }
}

describe('a second thread that shares the reckoning', () => {
  test('DUE-17 comes to the same due dates as one thread alone, each turn done once', async () => {
    const alone = await reckonedWith('alone', () => undefined)
    expect(alone.changed).toEqual(ok(5 * HOUSEHOLDS))
    const taken: string[] = []
    const shared = await reckonedWith('shared', (file) => watched(secondHandFor(file), taken))
    expect(shared).toEqual(alone)
    expect(taken.filter((who) => who === 'the other thread').length).toBeGreaterThan(0)
    expect(taken).toHaveLength(HOUSEHOLDS / 500)
  }, 60_000)

  test('DUE-17 that cannot read the books leaves all of it to the first', async () => {
    const alone = await reckonedWith('alone again', () => undefined)
    const without = await reckonedWith('without', () => secondHandFor(join(folder, 'no such books.sqlite')))
    expect(without).toEqual(alone)
  }, 60_000)

  test('DUE-17 that knows no such task leaves all of it to the first', async () => {
    const alone = await reckonedWith('alone once more', () => undefined)
    const lost = await reckonedWith('lost', (file) => ({
      share: (_task, input, turns) => secondHandFor(file).share('nobody knows this', input, turns),
    }))
    expect(lost).toEqual(alone)
  }, 60_000)
})

/** Writes down who did each turn; the first thread holds back until the other has done one. */
function watched(hand: SecondHand, taken: string[]): SecondHand {
  return {
    share: <Turn>(task: string, input: unknown, turns: number) => {
      const shared = hand.share<Turn>(task, input, turns)
      const heard = (turn: Turn | null) => {
        if (turn !== null) taken.push('the other thread')
        return turn
      }
      return {
        ...shared,
        ready: () => heard(shared.ready()),
        awaited: async () => heard(await shared.awaited()),
        end: () => shared.end(),
        take: () => {
          if (taken.length === 0) return null
          const turn = shared.take()
          if (turn !== null) taken.push('the first')
          return turn
        },
      }
    },
  }
}

test('DUE-17 a turn is taken from the pile once', () => {
  const pile = newPile()
  expect([takeTurn(pile, 3), takeTurn(pile, 3), takeTurn(pile, 3), takeTurn(pile, 3), takeTurn(pile, 3)]).toEqual([
    0,
    1,
    2,
    null,
    null,
  ])
})
