import { sql } from 'kysely'
import { describe, expect, test } from 'vitest'
import type { HouseholdRow, HouseholdSort } from '../../core/customers/customers-contract.ts'
import { matchOf } from '../../core/customers/search-store.ts'
import type { HouseholdSheet } from '../../core/due/due-contract.ts'
import { newStage, someCustomer, someSite, someUnit } from '../builders/a-household.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

async function add(office: AnOffice, name: string, site = {}): Promise<number> {
  const added = await office.ask('households/create', {
    customer: someCustomer({ sortName: name, letterName: name, salutation: '', email: '', phone: '555-0100' }),
    site: someSite(site),
  })
  expect(added.status).toBe(200)
  return (added.json as { siteId: number }).siteId
}

interface Page {
  readonly rows: HouseholdRow[]
  readonly next: { readonly key: string; readonly id: number } | null
}

async function page(
  office: AnOffice,
  wanted: {
    search?: string
    withClosed?: boolean
    sort?: HouseholdSort
    descending?: boolean
    after?: Page['next']
    limit?: number
  } = {},
): Promise<Page> {
  const answered = await office.ask('households/list', {
    search: '',
    withClosed: false,
    sort: 'household',
    descending: false,
    after: null,
    limit: 50,
    ...wanted,
  })
  expect(answered.status).toBe(200)
  return answered.json as Page
}

const names = async (office: AnOffice, search: string) =>
  (await page(office, { search })).rows.map((row) => row.household)
const sheet = async (office: AnOffice, siteId: number) =>
  (await office.ask('due/household', { siteId })).json as HouseholdSheet

describe.each(databases)('households on $name', ({ open, name }) => {
  test('CUST-2 a household is found by any part of name, address, telephone, e-mail and contact', async () => {
    const office = await anOffice(await open())
    const siteId = await add(office, 'Łukasz-Størmer, Piet', {
      line1: '7 Millrace Court',
      town: 'Pell Harbor',
      postalCode: '00177',
    })
    await add(office, 'Galbraith, Ottoline')
    await office.ask('households/saveContact', {
      siteId,
      contactId: null,
      fields: { name: 'Anneke Holt', role: 'tenant', phone: '(000) 555-0188', email: 'anneke@example.com', note: '' },
    })
    for (const typed of [
      'lukasz',
      'STØR',
      'millrace pell',
      '00177',
      '555-0188',
      '5550188',
      'anneke@',
      'st',
      'mer, p',
      'LS-0001',
    ])
      expect(await names(office, typed), typed).toEqual(['Łukasz-Størmer, Piet'])
    expect(await names(office, '')).toHaveLength(2)
    expect(await names(office, '100%')).toEqual([])
    expect(await names(office, '"mill')).toEqual([])
    expect((await office.ask('households/count', { search: 'lane', withClosed: false })).json).toEqual({ total: 1 })
  })

  test('CUST-2 a piece that hundreds hold is found along the list instead, page by page', async () => {
    const office = await anOffice(await open())
    for (let at = 0; at < 8; at += 1) await add(office, `Holt, ${String(at)}`)
    await sql`insert into customers (office_id, reference, kind, sort_name, letter_name, salutation, phone, phone_note, email, mail_line1, mail_line2, mail_town, mail_region, mail_postal_code, mail_country, note, created_on)
      with recursive n(x) as (select 1 union all select x + 1 from n where x < 450)
      select 1, 'M-' || x, 'person', 'Miller ' || (1000 + x), '', '', '', '', '', '', '', '', '', '', '', '', '2026-01-01' from n`.execute(
      office.database.write,
    )
    await sql`insert into sites (office_id, customer_id, line1, line2, town, region, postal_code, country, access_note, water_source)
      select 1, id, '', '', 'Saltgrass', '', '', '', '', 'mains' from customers where sort_name like 'Miller%'`.execute(
      office.database.write,
    )
    const siteIds = (
      await sql<{ id: number }>`select id from sites where town = 'Saltgrass'`.execute(office.database.write)
    ).rows.map((row) => Number(row.id))
    await office.desk().write((books) => books.happened({ kind: 'sites-changed', siteIds: siteIds as never }))
    const first = await page(office, { search: 'miller', limit: 30 })
    expect(first.rows.map((row) => row.household)).toEqual(Array.from({ length: 30 }, (_, at) => `Miller ${1001 + at}`))
    const second = await page(office, { search: 'miller', limit: 30, after: first.next })
    expect(second.rows[0]?.household).toBe('Miller 1031')
    expect(await names(office, 'miller 1007')).toEqual(['Miller 1007'])
  })

  test('CUST-7 pages of the ledger follow one another without a gap, in every order', async () => {
    const office = await anOffice(await open())
    for (let at = 0; at < 7; at += 1) {
      const siteId = await add(office, `Holt, ${'ABACABA'[at]}`, { town: `Town ${at % 2}` })
      if (at % 3 === 0)
        await office.ask('installations/create', {
          siteId,
          fields: someUnit(),
          stages: [newStage('carbon', '2026-06-01')],
        })
    }
    for (const sort of ['household', 'town', 'dueOn'] as const)
      for (const descending of [false, true]) {
        const whole = (await page(office, { sort, descending })).rows.map((row) => row.siteId)
        const paged: number[] = []
        for (let after: Page['next'] = null, more = true; more; ) {
          const next = await page(office, { sort, descending, after, limit: 3 })
          paged.push(...next.rows.map((row) => row.siteId))
          after = next.next
          more = after !== null
        }
        expect(paged).toEqual(whole)
        expect(new Set(paged).size).toBe(7)
      }
  })

  test('CUST-4 a stale save is refused and says what changed meanwhile; nothing is overwritten', async () => {
    const office = await anOffice(await open())
    const siteId = await add(office, 'Galbraith, Ottoline')
    const { customer, site } = await sheet(office, siteId)
    const saved = await office.ask('households/save', {
      siteId,
      customer: { ...customer, phone: '555-0177' },
      site,
      seen: { customer, site },
    })
    expect(saved.status).toBe(200)
    const stale = await office.ask('households/save', {
      siteId,
      customer: { ...customer, note: 'has a dog' },
      site,
      seen: { customer, site },
    })
    expect(stale).toMatchObject({ status: 422, json: { data: { code: 'RECORD_CHANGED' } } })
    expect(JSON.stringify(stale.json)).toContain('telephone: 555-0177 (it was 555-0100)')
    expect((await sheet(office, siteId)).customer).toMatchObject({ phone: '555-0177', note: '' })
  })

  test('CUST-5 changes, closing, moving and mail are written down with what was there before', async () => {
    const office = await anOffice(await open())
    const siteId = await add(office, 'Galbraith, Ottoline')
    const { customer, site } = await sheet(office, siteId)
    await office.ask('households/save', {
      siteId,
      customer: { ...customer, phone: '555-0177' },
      site: { ...site, monthsAway: '6,7,8' },
      seen: { customer, site },
    })
    await office.ask('households/moved', { siteId, moved: true })
    await office.ask('households/noMail', { siteId, noMail: true })
    await office.ask('households/close', { siteId, reason: 'house sold' })
    const after = await sheet(office, siteId)
    expect(after).toMatchObject({ closedOn: '2026-12-01', movedOn: '2026-12-01', customer: { noMail: true } })
    expect(after.events.map((event) => event.sentence)).toEqual([
      'Galbraith, Ottoline was closed: house sold',
      'Galbraith, Ottoline asked for no mail',
      'Galbraith, Ottoline has moved away',
      'Changed: telephone, months away',
      'Galbraith, Ottoline was added to the households',
    ])
    expect(after.events[3]?.details).toBe(
      'telephone: 555-0177 (it was 555-0100); months away: June to August (it was blank)',
    )
    expect(await names(office, 'galbraith')).toEqual([])
    expect((await page(office, { search: 'galbraith', withClosed: true })).rows[0]).toMatchObject({
      closed: true,
      moved: true,
      noMail: true,
    })
  })

  test('CUST-6 each household has its own reference', async () => {
    const office = await anOffice(await open())
    await add(office, 'Bexhill-Moreno, Idris')
    await add(office, 'Bexhill-Moreno, Idris')
    expect((await page(office)).rows.map((row) => row.reference)).toEqual(['BM-0001', 'BM-0002'])
  })

  test('CUST-4 what is not in the books any more is refused in words', async () => {
    const office = await anOffice(await open())
    const siteId = await add(office, 'Galbraith, Ottoline')
    const fields = { name: 'Anneke Holt', role: '', phone: '', email: '', note: '' }
    expect(await office.ask('households/close', { siteId: 99, reason: 'x' })).toMatchObject({
      status: 422,
      json: { data: { code: 'RECORD_GONE' } },
    })
    expect(await office.ask('households/saveContact', { siteId: 99, contactId: null, fields })).toMatchObject({
      status: 422,
    })
    expect(await office.ask('households/saveContact', { siteId, contactId: 5, fields })).toMatchObject({
      status: 422,
      json: { data: { code: 'RECORD_GONE' } },
    })
    const added = (await office.ask('households/saveContact', { siteId, contactId: null, fields })).json as {
      contactId: number
    }
    await office.ask('households/saveContact', { siteId, ...added, fields: { ...fields, role: 'tenant' } })
    expect((await sheet(office, siteId)).contacts).toMatchObject([{ name: 'Anneke Holt', role: 'tenant' }])
    await office.ask('households/removeContact', { siteId, ...added })
    expect((await sheet(office, siteId)).contacts).toEqual([])
  })

  test('CUST-2 the search goes by its index of pieces', async () => {
    const office = await anOffice(await open())
    if (name === 'SQLite') {
      const { rows } = await sql<{
        detail: string
      }>`explain query plan select rowid from site_search_index where words match ${matchOf([['555-0142', '5550142'], ['mill']])} limit 401`.execute(
        office.database.write,
      )
      expect(rows.map((row) => row.detail).join()).toContain('VIRTUAL TABLE INDEX')
      const walk = await sql<{
        detail: string
      }>`explain query plan select t.id from sites t join customers c on c.id = t.customer_id and c.office_id = t.office_id
        where t.office_id = 1 and t.id in (select k.site_id from site_search k where k.rowid in (1, 2, 3) and k.office_id = 1) order by c.sort_name limit 50`.execute(
        office.database.write,
      )
      expect(walk.rows.map((row) => row.detail).join('\n')).not.toMatch(/SCAN (t|c)\b/)
    } else {
      await sql`set enable_seqscan = off`.execute(office.database.write)
      const { rows } = await sql<{
        'QUERY PLAN': string
      }>`explain select k.site_id from site_search k where k.words like '%millrace%'`.execute(office.database.write)
      expect(rows.map((row) => row['QUERY PLAN']).join('\n')).toContain('site_search_words')
    }
  })
})
