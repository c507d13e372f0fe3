import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { PIECE_BYTES } from '../../core/imports/held-lists-store.ts'
import { type ListLook, listLookSchema, MOST_MEGABYTES } from '../../core/imports/imports-contract.ts'
import { MOST_ROWS } from '../../core/imports/open-list.ts'
import { type Office, openOffice } from '../../core/office.ts'
import { clientOf } from '../../electron/day/day-summary.ts'
import { askImports, runWork, sendList, sendPiece } from '../builders/a-brought-list.ts'
import { anOffice, clockAt } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

const MEGABYTE = 1024 * 1024
const HEAD = 'Name,Street,Town,Zip,Sediment changed,Notes\n'

/** A list of so many bytes: households with a long note each, the last one padded to fit. */
function listOfBytes(bytes: number): Uint8Array {
  const text = new Uint8Array(bytes).fill(0x2e)
  const encoder = new TextEncoder()
  let at = encoder.encodeInto(HEAD, text).written
  for (let n = 0; at < bytes - 2_000; n += 1) {
    const row = `"Holt${n}, Ida",${n} Mill Row,Saltgrass,00145,2026-05-09,${'note '.repeat(300)}\n`
    at += encoder.encodeInto(row, text.subarray(at)).written
  }
  encoder.encodeInto('"Lund, Bo",1 Quay Street,Saltgrass,00145,2026-05-09,', text.subarray(at))
  return text
}

describe.each(databases)('a list that is too large, on $name', ({ open }) => {
  async function held(office: Awaited<ReturnType<typeof anOffice>>): Promise<{ held: number; pieces: number }> {
    const { read } = office.database
    const files = await read.selectFrom('import_files').select('id').where('state', '=', 'held').execute()
    const pieces = await read.selectFrom('import_pieces').select('position').execute()
    return { held: files.length, pieces: pieces.length }
  }

  test('IMP-22 200 MB are turned away before they travel, with what to do, and nothing is left of them', async () => {
    const office = await anOffice(await open())
    expect(await askImports(office, 'begin', { name: 'everything.csv', size: 200 * MEGABYTE })).toMatchObject({
      status: 422,
      json: {
        data: {
          code: 'IMPORT_FILE_TOO_LARGE',
          sentence: `everything.csv is larger than ${MOST_MEGABYTES} MB.`,
          nextStep: 'Split the list in the spreadsheet and bring the parts one after the other.',
        },
      },
    })
    expect(await held(office)).toEqual({ held: 0, pieces: 0 })
  })

  test('IMP-22 a file never grows beyond what was announced, and one that came in part is not read', async () => {
    const office = await anOffice(await open())
    const begun = await askImports(office, 'begin', { name: 'small.csv', size: PIECE_BYTES + 10 })
    const { fileId } = begun.json as { fileId: number }
    const piece = new Blob([new Uint8Array(PIECE_BYTES).fill(65)])
    expect(await sendPiece(office, fileId, 0, piece)).toMatchObject({ status: 200 })
    for (const [position, bytes] of [
      [1, piece],
      [2, new Blob(['x'])],
      [400, piece],
      [0, new Blob(Array<Blob>(400).fill(piece))],
    ] as const)
      expect(await sendPiece(office, fileId, position, bytes)).toMatchObject({
        status: 422,
        json: { data: { code: 'IMPORT_FILE_NOT_WHOLE' } },
      })
    expect(await held(office)).toEqual({ held: 1, pieces: 1 })
    expect(await runWork(office, 'import-look', { fileId })).toMatchObject({
      ok: false,
      problem: { code: 'IMPORT_FILE_NOT_WHOLE', nextStep: 'Bring it once more.' },
    })
    expect(await held(office)).toEqual({ held: 0, pieces: 0 })
  })

  test('IMP-22 a list with too many rows is turned away in words and let go', async () => {
    const office = await anOffice(await open())
    const fileId = await sendList(office, `Name,Zip\n${'Ida Holt,1\n'.repeat(MOST_ROWS)}`, 'rows.csv')
    expect(await runWork(office, 'import-look', { fileId })).toMatchObject({
      ok: false,
      problem: { code: 'IMPORT_TOO_MANY_ROWS', sentence: 'rows.csv has more than 100,000 rows.' },
    })
    expect(await held(office)).toEqual({ held: 0, pieces: 0 })
  })

  test('IMP-3 how somebody chose to read the letters is kept, whoever looks again', async () => {
    const office = await anOffice(await open())
    const bytes = new TextEncoder().encode('Name,Street,Town\n"Müller, Thea",9 Mill Row,Nether Quay\n')
    const fileId = await sendList(office, bytes)
    const look = async (): Promise<ListLook> => {
      const result = await runWork<ListLook>(office, 'import-look', { fileId })
      if (!result.ok) throw new Error(result.problem.sentence)
      return result.value
    }
    expect(await look()).toMatchObject({ readAs: 'utf-8', couldBe: ['utf-8', 'windows-1252'] })
    expect(await askImports(office, 'readAs', { fileId, readAs: 'windows-1252' })).toMatchObject({ status: 200 })
    for (const again of [await look(), await look()]) {
      expect(again.readAs).toBe('windows-1252')
      expect(again.said[0]).toBe('Read as Western Windows (1252), as you chose.')
      // WHATWG Encoding Standard, index windows-1252: the bytes C3 BC of "ü" are "Ã" and "¼".
      expect(again.columns[0]?.samples).toEqual(['MÃ¼ller, Thea'])
    }
    await askImports(office, 'readAs', { fileId, readAs: 'utf-8' })
    expect((await look()).columns[0]?.samples).toEqual(['Müller, Thea'])
  })

  test('IMP-18 a list that is let go leaves neither its bytes nor what was judged of it', async () => {
    const office = await anOffice(await open())
    const fileId = await sendList(office, `${HEAD}Ida Holt,1 Mill Row,Saltgrass,00145,2026-05-09,\n`)
    const look = await runWork<ListLook>(office, 'import-look', { fileId })
    if (!look.ok) throw new Error(look.problem.sentence)
    await runWork(office, 'import-judge', { fileId, mapping: look.value.mapping })
    expect(await askImports(office, 'judged', { fileId, page: 0 })).toMatchObject({ status: 200 })
    await askImports(office, 'drop', { fileId })
    expect(await held(office)).toEqual({ held: 0, pieces: 0 })
    expect(await askImports(office, 'judged', { fileId, page: 0 })).toMatchObject({
      status: 422,
      json: { data: { code: 'IMPORT_FILE_GONE' } },
    })
  })
})

describe('a list as large as may be', () => {
  let folder = ''
  let office: Office
  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), 'penstock list '))
    const database = join(folder, 'books.sqlite')
    const opened = await openOffice({ database, clock: clockAt('2026-12-01'), log: () => {}, threads: 'worker' })
    if (!opened.ok) throw new Error(opened.problem.sentence)
    office = opened.value
    const home = { line1: '', line2: '', town: '', region: '', postalCode: '', country: 'US', phone: '', email: '' }
    await clientOf(office).office.found({ name: 'Larkmoor Water', ...home })
  })
  afterEach(async () => {
    await office.close()
    await rm(folder, { recursive: true, force: true })
  })

  test('IMP-22 a list at the limit is read in a thread of its own while the office answers everybody else', async () => {
    const fileId = await sendList(office, listOfBytes(MOST_MEGABYTES * MEGABYTE))
    const ask = clientOf(office)
    const { workId } = await ask.work.start({ name: 'import-look', input: { fileId } })
    let answeredMeanwhile = 0
    for (;;) {
      const state = await ask.work.progress({ workId })
      if (state.state !== 'running') {
        expect(state).toMatchObject({ state: 'done' })
        const look = listLookSchema.parse(state.outcome)
        expect(look.columns.map(({ use }) => use)).toContain('sediment/1/changed-on')
        expect(look.rows).toBeGreaterThan(15_000)
        break
      }
      expect(await ask.office.state()).toMatchObject({ founded: true })
      answeredMeanwhile += 1
      await pause(20)
    }
    expect(answeredMeanwhile).toBeGreaterThan(1)
  }, 120_000)
})
