import Database from 'better-sqlite3'
import { migrateBooks } from '../../core/database/migrate.ts'
import { openSqlite } from '../../core/database/open-sqlite.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { insertOffice } from '../../core/settings/office-store.ts'

const TOWNS = ['Tollard Mill', 'Pell Harbor', 'Orrin Falls', 'Saltgrass', 'Nether Quay']
const FAMILIES = [
  'Abernathy-Vance',
  'Ashgrove',
  'Bexhill-Moreno',
  'Castellane',
  'Drummond-Adeyemi',
  'Fenwick',
  'Galbraith',
  'Hallowell',
  'Ivanek',
  'Marchetti-Boone',
]
const KINDS = ['sediment', 'carbon', 'membrane', 'tank', 'post-carbon']

/** Writes books with an office and nobody in them into a file. */
export async function writeEmptyBooks(file: string): Promise<void> {
  const books = openSqlite(file)
  await migrateBooks(books, null)
  const address = {
    line1: '4 Sluice Yard',
    line2: '',
    town: 'Tollard Mill',
    region: 'XX',
    postalCode: '00142',
    country: 'US',
    phone: '555-0100',
    email: 'office@larkmoor.example.com',
  }
  await insertOffice(books.write, {
    ...address,
    id: FIRST_OFFICE,
    name: 'Larkmoor Water',
    isDemo: true,
    latitude: null,
    longitude: null,
    foundedAt: '2021-03-01T09:00:00.000Z',
  })
  await books.close()
}

/** Writes books with `count` households, each with one unit of five stages, into a file; not yet reckoned. */
export async function writeManyHouseholds(file: string, count: number): Promise<void> {
  await writeEmptyBooks(file)
  const db = new Database(file)
  db.pragma('foreign_keys = ON')
  // Nothing here is measured: one large transaction stays in memory until it is whole.
  db.pragma('synchronous = OFF')
  db.pragma('cache_size = -600000')
  const customer =
    db.prepare(`insert into customers (office_id, reference, kind, sort_name, letter_name, salutation, phone, phone_note, email, mail_line1, mail_line2, mail_town, mail_region, mail_postal_code, mail_country, note, created_on)
    values (1, ?, 'person', ?, ?, '', ?, '', ?, '', '', '', '', '', '', '', '2021-03-01')`)
  const site =
    db.prepare(`insert into sites (office_id, customer_id, line1, line2, town, region, postal_code, country, access_note, water_source, hardness_mg_l, people)
    values (1, ?, ?, '', ?, 'XX', ?, 'US', '', 'mains', ?, ?)`)
  const unit = db.prepare(
    `insert into installations (office_id, site_id, name, installed_on, note) values (1, ?, 'The unit under the kitchen sink', '2021-05-03', '')`,
  )
  const stage = db.prepare(
    `insert into stages (office_id, installation_id, position, kind, label, fitted_on) values (1, ?, ?, ?, '', ?)`,
  )
  const words = db.prepare('insert into site_search (office_id, site_id, words) values (1, ?, ?)')
  db.transaction(() => {
    for (let n = 1; n <= count; n += 1) {
      const name = `${FAMILIES[n % 10]}, ${n.toString(36)}`
      const town = TOWNS[n % 5] ?? ''
      const phone = `555-01${String(n % 100).padStart(2, '0')}`
      const customerId = customer.run(`R-${n}`, name, name, phone, `h${n}@example.com`).lastInsertRowid
      const siteId = site.run(
        customerId,
        `${n % 400} Weirside Lane`,
        town,
        String(n % 1000).padStart(5, '0'),
        n % 7 === 0 ? null : n % 220,
        n % 9 === 0 ? null : 1 + (n % 7),
      ).lastInsertRowid
      const unitId = unit.run(siteId).lastInsertRowid
      for (const [index, kind] of KINDS.entries()) stage.run(unitId, index + 1, kind, changedOn(n, index))
      words.run(
        siteId,
        `${name}\n${n % 400} weirside lane\n${town}\n${phone}\n${phone.replace('-', '')}\nh${n}@example.com\nr-${n}`.toLowerCase(),
      )
    }
  })()
  db.close()
}

function changedOn(n: number, index: number): string {
  const month = 1 + ((n * 7 + (index === 2 ? 3 : 0)) % 11)
  return `2026-${String(month).padStart(2, '0')}-${String(1 + (n % 28)).padStart(2, '0')}`
}
