import { describe, expect, test } from 'vitest'
import type { OwedRow } from '../../core/letters/letters-contract.ts'
import type { RecallLetters } from '../../core/letters/recall-letters-contract.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { aLotToRecall, RECALL } from '../builders/a-recall.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'
import { readPdf, wordsOn } from '../judges/read-pdf.ts'

const code = (answer: { json: unknown }) => (answer.json as { data?: { code?: string } }).data?.code

interface Ended {
  readonly state: string
  readonly outcome: unknown
  readonly problem: { readonly code: string } | null
}

async function write(office: AnOffice, lotId: number): Promise<Ended> {
  const { json } = await office.ask('work/start', { name: 'recall-letters', input: { lotId } })
  const { workId } = json as { workId: string }
  for (;;) {
    const ended = (await office.ask('work/progress', { workId })).json as Ended
    if (ended.state !== 'running') return ended
    await new Promise((resolve) => setImmediate(resolve))
  }
}

async function ofLot(office: AnOffice, lotId: number): Promise<RecallLetters> {
  return (await office.ask('recallLetters/ofLot', { lotId })).json as RecallLetters
}

async function bytesAt(office: AnOffice, address: string): Promise<Buffer> {
  const response = await office.handle(new Request(`http://office${address}`))
  expect(response.status).toBe(200)
  return Buffer.from(await response.arrayBuffer())
}

describe.each(databases)('letters of a recall on $name', ({ open }) => {
  test('LET-19 LET-20 each household once, in postal order, kept as printed, and taken back with a reason', async () => {
    const office = await anOffice(await open())
    const { tx, lotId, home } = await aLotToRecall(office)
    await home({ name: 'Holt, Per', street: '9 Weirside Lane', postalCode: '00150' })
    await home({ name: 'Ashgrove, Ida', street: '18 Weirside Lane', postalCode: '00142', stages: 2 })
    await home({ name: 'Quill, Ama', street: '7 Weirside Lane', postalCode: '00142' })
    await home({ name: 'Vane, Tor', mailTown: 'Nether Quay' })
    await home({ name: 'Silent, Joe', noMail: true })
    await home({ name: 'Gone, Liv', moved: true })
    await home({ name: 'Nowhere, Kit', street: ' ' })
    expect(await ofLot(office, lotId)).toEqual({ toWrite: 0, toPhone: [], batches: [] })
    expect((await write(office, lotId)).problem?.code).toBe('LOT_NOT_RECALLED')
    await office.ask('recall/recallLot', { lotId, ...RECALL })
    const before = await ofLot(office, lotId)
    expect(before.toWrite).toBe(4)
    expect(before.toPhone.map((each) => [each.household, each.why, each.phone])).toEqual([
      ['Nowhere, Kit', 'no address to write to', '555-0142'],
      ['Gone, Liv', 'moved away', '555-0142'],
      ['Silent, Joe', 'asked for no mail', '555-0142'],
    ])
    expect((await write(office, lotId)).outcome).toEqual({ letters: 4, first: 1 })
    const order = ['Quill, Ama', 'Ashgrove, Ida', 'Holt, Per', 'Vane, Tor']
    const rows = await tx.selectFrom('recall_letters').select(['salutation', 'body']).orderBy('position').execute()
    expect(rows.map((row) => row.salutation)).toEqual(order.map((name) => `Dear ${name}`))
    expect(rows.every((row) => row.body.includes('The end caps come loose. Their notice is FS-2026-11.'))).toBe(true)
    expect((await write(office, lotId)).problem?.code).toBe('RECALL_NOBODY_TO_WRITE')
    const written = await ofLot(office, lotId)
    expect(written).toMatchObject({ toWrite: 0, batches: [{ first: 1, letters: 4, writtenOn: '2026-12-01' }] })
    const sheet = (await office.ask('recall/lot', { lotId })).json as { homes: { writtenOn: string | null }[] }
    expect(sheet.homes.filter((each) => each.writtenOn === '2026-12-01')).toHaveLength(4)

    const address = `/papers/recall-letters/${lotId}/1.pdf`
    const first = await bytesAt(office, address)
    const paper = await readPdf(first)
    expect(paper.title).toBe('Recall of lot K-77: 4 letters of December 1, 2026')
    expect(paper.pages.map((page) => order.findIndex((name) => wordsOn(page).includes(`Dear ${name}`)))).toEqual([
      0, 1, 2, 3,
    ])
    await tx.updateTable('offices').set({ name: 'Renamed', phone: '555-0199' }).execute()
    await tx.updateTable('customers').set({ letter_name: 'Other' }).execute()
    await tx.updateTable('lots').set({ recall_note: 'something else' }).where('id', '=', lotId).execute()
    expect((await bytesAt(office, address)).equals(first)).toBe(true)

    expect((await office.ask('recallLetters/takeBack', { lotId, first: 1, reason: ' ' })).status).toBe(400)
    const taken = await office.ask('recallLetters/takeBack', { lotId, first: 1, reason: 'the printer jammed' })
    expect(taken.json).toEqual({ letters: 4 })
    expect(code(await office.ask('recallLetters/takeBack', { lotId, first: 1, reason: 'again' }))).toBe(
      'LETTER_RUN_GONE',
    )
    expect((await office.handle(new Request(`http://office${address}`))).status).not.toBe(200)
    expect((await ofLot(office, lotId)).toWrite).toBe(4)
    const told = await tx.selectFrom('events').select('sentence').where('verb', '=', 'taken back').execute()
    expect(told).toEqual(Array(4).fill({ sentence: 'recall letter taken back: the printer jammed' }))
  })

  test('LET-19 a second recall of a lot that was freed writes to the same households anew', async () => {
    const books = await open()
    const office = await anOffice(books)
    const { tx, lotId, home } = await aLotToRecall(office)
    await home({ name: 'Holt, Per' })
    await office.ask('recall/recallLot', { lotId, ...RECALL })
    await write(office, lotId)
    await office.ask('recall/freeLot', { lotId, why: 'withdrawn' })
    await office.ask('recall/recallLot', { lotId, ...RECALL })
    // The clock of the test stands still: the second recall began a day later.
    await tx.updateTable('lots').set({ recalled_at: '2026-12-01T13:00:00.000Z' }).where('id', '=', lotId).execute()
    expect((await ofLot(office, lotId)).toWrite).toBe(1)
  })

  test('LET-21 no reminder speaks of what is recalled or asks money for it', async () => {
    const office = await anOffice(await open())
    const { tx, lotId, home } = await aLotToRecall(office)
    const { siteId, stageIds } = await home({ name: 'Holt, Per', stages: 2 })
    await tx
      .updateTable('stages')
      .set({ fitted_on: calendarDate('2026-11-20') })
      .execute()
    await office.ask('recall/recallLot', { lotId, ...RECALL })
    const owed = async () => ((await office.ask('letters/owed')).json as { rows: OwedRow[] }).rows
    expect(await tx.selectFrom('sites').select('due_on').where('id', '=', siteId).execute()).toEqual([
      { due_on: '2026-12-01' },
    ])
    expect(await owed()).toEqual([])
    // Something else is due there, too: the reminder is about that alone.
    await tx
      .updateTable('stages')
      .set({ fitted_lot_id: null, kind: 'sediment', due_on: calendarDate('2026-12-20'), due_rule: 'months' })
      .where('id', '=', stageIds[1] ?? (0 as never))
      .execute()
    expect((await owed()).map((row) => row.dueOn)).toEqual(['2026-12-20'])
    const response = await office.handle(new Request('http://office/papers/letters-owed/all.pdf'))
    const words = wordsOn((await readPdf(Buffer.from(await response.arrayBuffer()))).pages[0])
    expect(words).toContain('The sediment filter of your drinking-water unit is due')
    expect(words).not.toContain('recalled')
  })
})
