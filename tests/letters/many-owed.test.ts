import { describe, expect, test } from 'vitest'
import { composeOwed } from '../../core/letters/compose-owed-answers.ts'
import { LETTER_KINDS } from '../../core/letters/letter-kinds.ts'
import { writeLettersWork } from '../../core/letters/letters-work.ts'
import { comparePostal } from '../../core/letters/postal-order.ts'
import { writtenRunSchema } from '../../core/letters/write-letters.ts'
import { DEFAULT_SETTINGS } from '../../core/settings/office-settings.ts'
import { findOffice } from '../../core/settings/office-store.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { letterRunIdSchema } from '../../core/units/ids.ts'
import { aMailedHousehold } from '../builders/a-mailed-household.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

/** More customers than are looked up at once, and more letters than are composed at once. */
const MANY = 520
const today = calendarDate('2026-11-25')

/** Households all over two towns, so that the order of the post has nothing to do with the order of the books. */
async function manyOwed(office: AnOffice): Promise<void> {
  for (let index = 0; index < MANY; index += 1) {
    const place = (index * 307) % MANY
    await aMailedHousehold(office.database, {
      reference: `MO-${String(index).padStart(4, '0')}`,
      dueOn: addDays(today, (index * 7) % 25),
      street: `${1 + place} Weirside Lane`,
      ...(place % 2 === 0 ? { postalCode: '00101', town: 'Pell Harbor' } : {}),
    })
  }
}

describe.each(databases)('many letters owed on $name', ({ open }) => {
  test('LET-10 LET-12 composed some at a time they are all there once, in postal order, and so they are written', async () => {
    const office = await anOffice(await open(), today)
    await manyOwed(office)
    const desk = office.desk()
    const address = await findOffice(desk.read, desk.officeId)
    if (!address) throw new Error('no office')
    const choice = { kinds: LETTER_KINDS, customerIds: null, aheadUntil: null }
    const turns: string[][] = []
    for await (const turn of composeOwed(desk, choice, { today, office: address, settings: DEFAULT_SETTINGS }))
      turns.push(turn.composed.map(({ frozen }) => frozen.reference))
    expect(turns.length).toBeGreaterThan(2)
    const written = await writeLettersWork.run(
      { ...desk, progress: async () => true },
      { ...choice, aheadUntil: undefined },
    )
    if (!written.ok) throw new Error(written.problem.sentence)
    const run = writtenRunSchema.parse(written.value)
    expect(run.letters).toBe(MANY)
    const letters = await desk.read
      .selectFrom('letters as l')
      .innerJoin('sites as t', 't.id', 'l.site_id')
      .select(['l.reference', 'l.position', 't.postal_code', 't.town', 't.line1'])
      .where('l.run_id', '=', letterRunIdSchema.parse(run.runId))
      .orderBy('l.position')
      .execute()
    expect(letters.map((letter) => letter.position)).toEqual(Array.from({ length: MANY }, (_, index) => index + 1))
    expect(letters.map((letter) => letter.reference)).toEqual(turns.flat())
    expect(new Set(turns.flat()).size).toBe(MANY)
    const placeOf = (letter: (typeof letters)[number]) => ({
      postalCode: letter.postal_code,
      town: letter.town,
      street: letter.line1,
    })
    for (const [index, letter] of letters.entries()) {
      const before = letters[index - 1]
      if (before) expect(comparePostal(placeOf(before), placeOf(letter))).toBeLessThanOrEqual(0)
    }
    const runs = await desk.read.selectFrom('letter_runs').select(['name', 'letters']).execute()
    expect(runs).toEqual([{ name: `Nov 25: ${MANY} first letters`, letters: MANY }])
  }, 120_000)

  test('WORK-2 LET-12 stopped between two letters, a run says how far it was and leaves none written', async () => {
    const office = await anOffice(await open(), today)
    await manyOwed(office)
    const desk = office.desk()
    const said: string[] = []
    const stopped = await writeLettersWork.run(
      {
        ...desk,
        progress: async ({ saying }) => {
          said.push(saying)
          return said.length < 3
        },
      },
      { kinds: LETTER_KINDS, customerIds: null, aheadUntil: undefined },
    )
    expect(stopped).toMatchObject({ ok: false, problem: { code: 'WORK_STOPPED' } })
    expect(said.at(-1)).toBe(`writing letter 400 of ${MANY}`)
    expect(await desk.read.selectFrom('letter_runs').select('id').execute()).toEqual([])
    expect(await desk.read.selectFrom('letters').select('id').execute()).toEqual([])
  }, 120_000)
})
