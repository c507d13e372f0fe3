import { afterEach, describe, expect, test } from 'vitest'
import type { OpenDatabase } from '../../core/database/handles.ts'
import type { JudgedListAnswer, ListLook, Taken } from '../../core/imports/imports-contract.ts'
import type { JudgedEntry } from '../../core/imports/judged-entry.ts'
import { type ListMapping, REFUSED_COLUMNS } from '../../core/imports/list-mapping.ts'
import { writeCsv } from '../../core/imports/write-csv.ts'
import type { Result } from '../../core/result.ts'
import { WORKS } from '../../core/works.ts'
import { bringList, judgedEntries, runWork } from '../builders/a-brought-list.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

const opened: OpenDatabase[] = []
afterEach(async () => {
  for (const database of opened.splice(0)) await database.close()
})

/** Three households: one over three rows with blank cells, one in one row, one refused. */
const LIST = [
  'Acct #,Customer,Phone,Street,City,State,Zip,People,Stage,Last changed,Part no.',
  'A-1,"Abernathy-Vance, Corinne",555-0142,18 Weirside Lane,Tollard Mill,XX,142,6,Sediment,5/9/2026,P-1005',
  ',,,,,,,,Carbon,5/9/2026,',
  ',,,,,,,,Membrane,11/23/2023,',
  'A-2,Ashgrove Dental,555-0143,4 Quay Street,Pell Harbor,XX,143,,Membrane,1/31/2024,',
  'A-3,"Galbraith, Ottoline",555-0144,2 Mill Row,Nether Quay,XX,144,1,Sediment,31/31/2024,',
].join('\r\n')

const bring = bringList
const work = runWork

type JudgedRows = JudgedListAnswer & { readonly rows: readonly JudgedEntry[] }

async function judge(office: AnOffice, look: ListLook, mapping: ListMapping = look.mapping): Promise<JudgedRows> {
  const result = await work<JudgedListAnswer>(office, 'import-judge', { fileId: look.fileId, mapping })
  if (!result.ok) throw new Error(result.problem.sentence)
  return { ...result.value, rows: await judgedEntries(office, look.fileId, result.value.pages) }
}

async function take(office: AnOffice, look: ListLook, expected: number, choices = {}): Promise<Result<Taken>> {
  return work<Taken>(office, 'import-take', { fileId: look.fileId, mapping: look.mapping, choices, expected })
}

async function counts({ read }: OpenDatabase): Promise<Record<string, number>> {
  const count = async (
    table: 'customers' | 'sites' | 'installations' | 'stages' | 'contacts' | 'site_search' | 'events',
  ): Promise<number> =>
    (
      await read
        .selectFrom(table)
        .select((row) => row.fn.countAll<number>().as('count'))
        .executeTakeFirstOrThrow()
    ).count
  return {
    customers: Number(await count('customers')),
    sites: Number(await count('sites')),
    installations: Number(await count('installations')),
    stages: Number(await count('stages')),
    words: Number(await count('site_search')),
    events: Number(await count('events')),
  }
}

const NOTHING = { customers: 0, sites: 0, installations: 0, stages: 0, words: 0, events: 0 }

describe.each(databases)('a list on $name', ({ open }) => {
  async function office(): Promise<AnOffice> {
    const database = await open()
    opened.push(database)
    return anOffice(database)
  }

  test('IMP-14 is judged whole before anything is written', async () => {
    const here = await office()
    const look = await bring(here, LIST)
    expect(look.mapping.uses).toEqual([
      ...['reference', 'name', 'phone', 'street', 'town', 'region', 'postal-code', 'people'],
      ...['stage', 'stage-changed-on', 'stage-part'],
    ])
    const judged = await judge(here, look)
    expect(judged.rows.map(({ name, kind, lines }) => ({ name, kind, lines }))).toEqual([
      { name: 'Abernathy-Vance, Corinne', kind: 'household', lines: [2, 3, 4] },
      { name: 'Ashgrove Dental', kind: 'household', lines: [5] },
      { name: 'A-3, Galbraith, Ottoline', kind: 'refused', lines: [6] },
    ])
    expect(await counts(here.database)).toEqual(NOTHING)
  })

  test('IMP-15 is taken whole: customers, sites, units, stages, words to search by and the due dates', async () => {
    const here = await office()
    const look = await bring(here, LIST)
    const taken = await take(here, look, 2)
    expect(taken).toEqual({ ok: true, value: { fresh: 2, joined: 0, unchanged: 0, leftOut: 0, refused: 1, stages: 4 } })
    expect(await counts(here.database)).toEqual({
      customers: 2,
      sites: 2,
      installations: 2,
      stages: 4,
      words: 2,
      events: 1,
    })
    const stages = await here.database.read
      .selectFrom('stages')
      .select(['kind', 'position', 'fitted_on', 'due_on'])
      .orderBy('id')
      .execute()
    expect(stages.map(({ kind, position, fitted_on }) => [kind, position, fitted_on])).toEqual([
      ['sediment', 1, '2026-05-09'],
      ['carbon', 2, '2026-05-09'],
      ['membrane', 3, '2023-11-23'],
      ['membrane', 1, '2024-01-31'],
    ])
    // Six people: six months (handbook, section 4, common practice).
    expect(stages[0]?.due_on).toBe('2026-11-09')
    const site = await here.database.read
      .selectFrom('sites')
      .select(['postal_code', 'people'])
      .orderBy('id')
      .executeTakeFirstOrThrow()
    expect(site).toEqual({ postal_code: '00142', people: 6 })
    const part = await here.database.read
      .selectFrom('installations')
      .select('note')
      .orderBy('id')
      .executeTakeFirstOrThrow()
    expect(part.note).toBe('Sediment: part P-1005, not in the catalogue')
  })

  test('IMP-16 the same file brought twice doubles nobody', async () => {
    const here = await office()
    await take(here, await bring(here, LIST), 2)
    const before = await counts(here.database)
    const again = await bring(here, LIST)
    expect(again.remembered).toBe(true)
    const judged = await judge(here, again)
    expect(judged.rows.map((entry) => entry.likeness?.advice ?? null)).toEqual([
      'same-household',
      'same-household',
      null,
    ])
    const taken = await take(here, again, 0)
    expect(taken).toMatchObject({ ok: true, value: { fresh: 0, joined: 0, unchanged: 2 } })
    expect({ ...(await counts(here.database)), events: 0 }).toEqual({ ...before, events: 0 })
  })

  test('IMP-17 a refused row, corrected and brought again, completes its household', async () => {
    const here = await office()
    const broken = LIST.replace(',,,,,,,,Carbon,5/9/2026,', ',,,,,,,,Carbon,soon,')
    await take(here, await bring(here, broken), 2)
    const corrected = [
      'Acct #,Customer,Phone,Street,City,State,Zip,People,Stage,Last changed,Part no.,Line in the list,What is wrong,What to do about it',
      'A-1,"Abernathy-Vance, Corinne",,18 Weirside Lane,Tollard Mill,XX,142,,Carbon,5/9/2026,,3,"""soon"" is not a date.",Write it as 2026-11-09',
    ].join('\r\n')
    const look = await bring(here, corrected, 'refused.csv')
    expect(look.remembered).toBe(true)
    expect(look.mapping.uses.slice(-3)).toEqual(['ignore', 'ignore', 'ignore'])
    expect(await take(here, look, 0)).toMatchObject({ ok: true, value: { fresh: 0, joined: 1 } })
    expect(await counts(here.database)).toMatchObject({ customers: 2, installations: 2, stages: 4 })
  })

  /** The refused rows as the screen saves them, with another date in place of what could not be read. */
  function corrected(judged: JudgedRows, dates: readonly string[]): string {
    const refused = judged.rows.filter(({ kind }) => kind === 'refused')
    const rows = refused.map(({ cells, lines, rank }, index) => [
      ...cells.map((cell) => (cell === 'soon' ? (dates[index] ?? '') : cell)),
      lines[0] ?? 0,
      'wrong',
      'to do',
      rank,
    ])
    return writeCsv([...judged.columns, ...REFUSED_COLUMNS], rows)
  }

  async function stagesInFlow(office: AnOffice): Promise<(string | null)[][]> {
    const rows = await office.database.read
      .selectFrom('stages')
      .select(['kind', 'position', 'fitted_on'])
      .orderBy('installation_id')
      .orderBy('position')
      .execute()
    return rows.map(({ kind, position, fitted_on }) => [String(position), kind, fitted_on])
  }

  const CARBONS = [
    'Acct #,Customer,Street,City,Stage,Last changed',
    'A-1,"Holt, Ida",4 Mill Row,Saltgrass,Sediment,5/9/2026',
    'A-1,"Holt, Ida",4 Mill Row,Saltgrass,Carbon,FIRST',
    'A-1,"Holt, Ida",4 Mill Row,Saltgrass,Carbon,soon',
    'A-1,"Holt, Ida",4 Mill Row,Saltgrass,Membrane,11/23/2023',
  ].join('\n')

  test.each([
    ['the second carbon filter', '5/9/2026', ['5/9/2026']],
    ['both carbon filters', 'soon', ['5/9/2026', '5/10/2026']],
  ])(
    'IMP-17 %s, refused first and brought again, come in as what they are, in their place',
    async (_, first, dates) => {
      const here = await office()
      const look = await bring(here, CARBONS.replace('FIRST', first))
      const judged = await judge(here, look)
      await take(here, look, 1)
      const again = corrected(judged, dates)
      const brought = await bring(here, again, 'refused.csv')
      expect(brought.mapping.uses.at(-1)).toBe('stage-rank')
      expect(await take(here, brought, 0)).toMatchObject({ ok: true, value: { fresh: 0, joined: 1 } })
      const whole = [
        ['1', 'sediment', '2026-05-09'],
        ['2', 'carbon', '2026-05-09'],
        ['3', 'carbon', dates.length === 1 ? '2026-05-09' : '2026-05-10'],
        ['4', 'membrane', '2023-11-23'],
      ]
      expect(await stagesInFlow(here)).toEqual(whole)
      expect(await take(here, await bring(here, again, 'refused.csv'), 0)).toMatchObject({ value: { unchanged: 1 } })
      expect(await stagesInFlow(here)).toEqual(whole)
    },
  )

  test('IMP-17 the dates of one filter that was changed over and over are not numbered', async () => {
    const here = await office()
    const log = CARBONS.replace('FIRST', '5/9/2025').replace(
      'Membrane,11/23/2023',
      'Carbon,5/9/2024\nA-1,"Holt, Ida",4 Mill Row,Saltgrass,Membrane,11/23/2023',
    )
    const look = await bring(here, log)
    const judged = await judge(here, look)
    expect(judged.rows.filter(({ kind }) => kind === 'refused').map(({ rank }) => rank)).toEqual([null])
  })

  test('IMP-18 a stop half way leaves the books as they were', async () => {
    const here = await office()
    const look = await bring(here, LIST)
    const input = { fileId: look.fileId, mapping: look.mapping, choices: {}, expected: 2 }
    for (const stopAt of [1, 2, 3]) {
      expect(await work(here, 'import-take', input, stopAt)).toMatchObject({
        ok: false,
        problem: { code: 'WORK_STOPPED' },
      })
      expect(await counts(here.database)).toEqual(NOTHING)
    }
    expect(await work(here, 'import-take', input)).toMatchObject({ ok: true })
  })

  test('IMP-18 a failure in the middle leaves the books as they were', async () => {
    const here = await office()
    const look = await bring(here, LIST)
    let steps = 0
    const named = WORKS['import-take']
    const desk = {
      ...here.desk(),
      progress: async () => {
        steps += 1
        if (steps === 2) throw new Error('the light went out')
        return true
      },
    }
    await expect(
      named?.run(desk, { fileId: look.fileId, mapping: look.mapping, choices: {}, expected: 2 }),
    ).rejects.toThrow('the light went out')
    expect(await counts(here.database)).toEqual(NOTHING)
  })

  test('IMP-19 nothing is written when the books changed since the list was looked through', async () => {
    const here = await office()
    const look = await bring(here, LIST)
    expect(await take(here, look, 3)).toMatchObject({ ok: false, problem: { code: 'IMPORT_CHANGED' } })
    expect(await counts(here.database)).toEqual(NOTHING)
  })

  test('IMP-20 a household may be left out, and one with another address stays with its customer', async () => {
    const here = await office()
    const text = [
      'Customer,Phone,Address,City,Zip',
      'Corinne Abernathy-Vance,555-0142,18 Weirside Lane,Tollard Mill,00142',
      'Corinne Abernathy-Vance,555-0142,7 Harbor Steps,Pell Harbor,00143',
      'Ottoline Galbraith,555-0144,2 Mill Row,Nether Quay,00144',
    ].join('\n')
    const look = await bring(here, text)
    const judged = await judge(here, look)
    expect(judged.rows[1]?.likeness).toMatchObject({
      because: 'same telephone, same name, another address',
      advice: 'same-customer',
    })
    expect(await take(here, look, 2, { 4: 'leave-out' })).toMatchObject({ ok: true, value: { fresh: 2, leftOut: 1 } })
    expect(await counts(here.database)).toMatchObject({ customers: 1, sites: 2 })
  })
})
