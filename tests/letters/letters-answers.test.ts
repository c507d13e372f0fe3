import { describe, expect, test } from 'vitest'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import type { LetterPreview, LetterRun, OwedRow } from '../../core/letters/letters-contract.ts'
import { insertRun } from '../../core/letters/runs-store.ts'
import { writtenRunSchema } from '../../core/letters/write-letters.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { minutes, timeOfDay } from '../../core/units/time-of-day.ts'
import { aMailedHousehold } from '../builders/a-mailed-household.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

const ALL = { kinds: ['first', 'second', 'final'], customerIds: null }

async function owedOf(office: AnOffice): Promise<OwedRow[]> {
  return ((await office.ask('letters/owed')).json as { rows: OwedRow[] }).rows
}

interface Ended {
  readonly state: string
  readonly outcome: unknown
  readonly problem: { readonly code: string } | null
}

async function endOf(office: AnOffice, workId: string): Promise<Ended> {
  for (;;) {
    const { json } = await office.ask('work/progress', { workId })
    const ended = json as Ended
    if (ended.state !== 'running') return ended
    await new Promise((resolve) => setImmediate(resolve))
  }
}

async function write(office: AnOffice, input: unknown = ALL): Promise<Ended> {
  const { json } = await office.ask('work/start', { name: 'write-letters', input })
  return endOf(office, (json as { workId: string }).workId)
}

async function paper(office: AnOffice, address: string): Promise<Uint8Array> {
  const response = await office.handle(new Request(`http://office${address}`))
  expect(response.status).toBe(200)
  return new Uint8Array(await response.arrayBuffer())
}

describe.each(databases)('letters on $name', ({ open }) => {
  test('LET-17 the chosen of a week ahead are written to before their lead, and only they', async () => {
    const books = await open()
    const office = await anOffice(books, '2026-11-25')
    const early = await aMailedHousehold(books, { reference: 'EA-0001', dueOn: '2027-01-20' })
    await aMailedHousehold(books, { reference: 'EA-0002', dueOn: '2027-01-21' })
    expect(await owedOf(office)).toEqual([])
    const aheadUntil = '2027-01-24'
    const { rows } = (await office.ask('letters/owed', { aheadUntil })).json as { rows: OwedRow[] }
    expect(rows).toHaveLength(2)
    expect((await write(office, { ...ALL, customerIds: [early.customerId] })).problem?.code).toBe('LETTERS_NONE_OWED')
    const ended = await write(office, { ...ALL, customerIds: [early.customerId], aheadUntil })
    expect(writtenRunSchema.parse(ended.outcome).letters).toBe(1)
    const letters = await books.read.selectFrom('letters').select(['reference', 'kind', 'due_on']).execute()
    expect(letters).toEqual([{ reference: 'EA-0001', kind: 'first', due_on: '2027-01-20' }])
  })

  test('LET-12 a run and its letters are written once, even when two press at the same time', async () => {
    const books = await open()
    const office = await anOffice(books, '2026-11-25')
    await aMailedHousehold(books, { reference: 'BM-0417', dueOn: '2026-12-10' })
    await aMailedHousehold(books, {
      reference: 'AB-0001',
      dueOn: '2026-12-12',
      postalCode: '00101',
      town: 'Pell Harbor',
    })
    const both = await Promise.all([write(office), write(office)])
    expect(both.map((each) => each.state).sort()).toEqual(['done', 'refused'])
    expect(both.find((each) => each.state === 'refused')?.problem?.code).toBe('LETTERS_NONE_OWED')
    const letters = await books.read
      .selectFrom('letters')
      .select(['reference', 'position', 'kind'])
      .orderBy('position')
      .execute()
    expect(letters.map((letter) => [letter.reference, letter.kind])).toEqual([
      ['AB-0001', 'first'],
      ['BM-0417', 'first'],
    ])
    expect(await owedOf(office)).toEqual([])
  })

  test('LET-12 the letters owed can be had as a paper before anything is written, and nothing is', async () => {
    const books = await open()
    const office = await anOffice(books, '2026-11-25')
    expect((await office.handle(new Request('http://office/papers/letters-owed/all.pdf'))).status).toBe(422)
    await aMailedHousehold(books, { reference: 'BM-0417', dueOn: '2026-12-10' })
    expect((await paper(office, '/papers/letters-owed/all.pdf')).length).toBeGreaterThan(5000)
    expect(await owedOf(office)).toHaveLength(1)
    expect(await books.read.selectFrom('letters').select('id').execute()).toEqual([])
  })

  test('LET-13 what was printed stays: prices, names and addresses may change, the reprint is the same to the byte', async () => {
    const books = await open()
    const office = await anOffice(books, '2026-11-25')
    const { customerId } = await aMailedHousehold(books, { reference: 'BM-0417', dueOn: '2026-12-10' })
    const { runId } = writtenRunSchema.parse((await write(office)).outcome)
    const before = await paper(office, `/papers/letters/${runId}.pdf`)
    await books.write
      .updateTable('parts')
      .set({ price_cents: 9900 as never })
      .execute()
    await books.write
      .updateTable('customers')
      .set({ letter_name: 'Somebody Else', salutation: 'Dear Somebody Else' })
      .where('id', '=', customerId)
      .execute()
    await books.write
      .updateTable('stages')
      .set({ due_on: calendarDate('2029-01-01') })
      .execute()
    expect(Buffer.from(await paper(office, `/papers/letters/${runId}.pdf`)).equals(Buffer.from(before))).toBe(true)
    const { id: letterId } = await books.read.selectFrom('letters').select('id').executeTakeFirstOrThrow()
    expect((await paper(office, `/papers/letters/${runId}/${letterId}.pdf`)).length).toBeGreaterThan(5000)
  })

  test('LET-14 a run taken back with a reason counts as never written', async () => {
    const books = await open()
    const office = await anOffice(books, '2026-11-25')
    const { siteId } = await aMailedHousehold(books, { reference: 'BM-0417', dueOn: '2026-12-10' })
    const { runId } = writtenRunSchema.parse((await write(office)).outcome)
    expect((await office.ask('letters/takeBack', { runId, reason: '' })).status).toBe(400)
    expect((await office.ask('letters/takeBack', { runId, reason: 'the printer ran dry' })).json).toEqual({
      letters: 1,
    })
    expect((await owedOf(office)).map((row) => row.kind)).toEqual(['first'])
    const again = await office.ask('letters/takeBack', { runId, reason: 'once more' })
    expect(again.status).toBe(422)
    const [run] = (await office.ask('letters/runs')).json as LetterRun[]
    expect(run?.takenBackReason).toBe('the printer ran dry')
    expect((await office.handle(new Request(`http://office/papers/letters/${runId}.pdf`))).status).toBe(422)
    const events = await books.read
      .selectFrom('events')
      .select(['verb', 'sentence'])
      .where('site_id', '=', siteId)
      .orderBy('id')
      .execute()
    expect(events.map((event) => event.verb)).toEqual(['written', 'taken back'])
  })

  test('LET-3 a household that has booked, or asked for no mail, is not in the list', async () => {
    const books = await open()
    const office = await anOffice(books, '2026-11-25')
    await aMailedHousehold(books, { reference: 'NO-0001', dueOn: '2026-12-10', noMail: true })
    const { siteId } = await aMailedHousehold(books, { reference: 'BO-0002', dueOn: '2026-12-10' })
    await aMailedHousehold(books, { reference: 'YE-0003', dueOn: '2026-12-10' })
    await books.write
      .insertInto('visits')
      .values({
        office_id: FIRST_OFFICE,
        site_id: siteId,
        visit_on: calendarDate('2026-12-02'),
        window_from: timeOfDay(480),
        window_until: timeOfDay(600),
        planned_minutes: minutes(40),
        ...{
          technician_id: null,
          route_position: null,
          state: 'booked',
          reason: '',
          note: '',
          done_on: null,
          remarks: '',
        },
        ...{ booked_at: '2026-11-20T10:00:00.000Z', recorded_at: null, letter_id: null },
      })
      .execute()
    const rows = await owedOf(office)
    expect(rows).toHaveLength(1)
    expect((await write(office, { kinds: ['second'], customerIds: null })).problem?.code).toBe('LETTERS_NONE_OWED')
  })

  test('LET-9 the preview follows a wording that is not saved, and a field that nobody knows is refused', async () => {
    const books = await open()
    const office = await anOffice(books, '2026-11-25')
    const { customerId } = await aMailedHousehold(books, { reference: 'BM-0417', dueOn: '2026-12-10' })
    const wording = { kind: 'first', subject: 'It is time again', body: 'Hello {name}.', answer: 'Call {phone}.' }
    const shown = (await office.ask('letters/preview', { customerId, kind: 'first', wording })).json as LetterPreview
    const texts = shown.picture.marks.flatMap((mark) => (mark.kind === 'text' ? [mark.text] : []))
    expect(texts).toContain('It is time again')
    expect(texts).toContain('Hello Idris Bexhill-Moreno.')
    expect(shown.pages).toBe(1)
    const refused = await office.ask('letters/preview', {
      customerId: null,
      kind: 'first',
      wording: { ...wording, body: '{nmae}' },
    })
    expect(refused.status).toBe(422)
    const kept = await office.ask('letters/saveWording', { ...wording, version: 0 })
    expect(kept.json).toMatchObject({ version: 1 })
    expect((await office.ask('letters/saveWording', { ...wording, version: 0 })).status).toBe(422)
    const words = (await office.ask('letters/wordings')).json as {
      kept: { version: number }[]
      ours: { kind: string }[]
    }
    expect(words.ours.map((each) => each.kind)).toEqual(['first', 'second', 'final'])
    expect(words.kept.map((each) => each.version)).toEqual([1, 0, 0])
  })

  test('a run that is not there is refused, not broken', async () => {
    const books = await open()
    const office = await anOffice(books, '2026-11-25')
    expect((await office.ask('letters/run', { runId: 99 })).status).toBe(422)
    expect((await office.handle(new Request('http://office/papers/letters/99.pdf'))).status).toBe(422)
    const runId = await insertRun(books.write, FIRST_OFFICE, {
      ...{
        name: 'Nov 1',
        writtenOn: calendarDate('2026-11-01'),
        writtenAt: '2026-11-01T09:00:00.000Z',
        by: 'the office',
      },
      ...{ letters: 0, pageSize: 'letter', windowEnvelope: 'us-10' },
      sender: { officeName: 'Larkmoor Water', particulars: [], senderLine: '', locale: 'en-US' },
    })
    expect((await office.ask('letters/run', { runId })).json).toMatchObject({ name: 'Nov 1', rows: [] })
  })
})
