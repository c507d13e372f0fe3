import Database from 'better-sqlite3'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { writeEmptyBooks } from './many-households.ts'

export interface WarehouseSize {
  readonly movements: number
  readonly parts: number
  readonly lots: number
  readonly places: number
}

/** The warehouse that the issue asks for, four years of it. */
export const LARGE_WAREHOUSE: WarehouseSize = { movements: 2_000_000, parts: 1_000, lots: 20_000, places: 300 }

const DAYS = 1460
const LAST_DAY = calendarDate('2026-12-01')
const VANS = 10
/** Lots that are drawn from at the same time. */
const IN_USE = 2_000
const MOVEMENT = `insert into movements (office_id, part_id, lot_id, from_place_id, to_place_id, quantity, reason, moved_on, moved_at, by_whom, note)
  values (1, ?, ?, ?, ?, ?, ?, ?, '', 'Ilse R.', '')`

/** Writes books with so many movements, and nobody in them, into a file. */
export async function writeManyMovements(file: string, size: WarehouseSize = LARGE_WAREHOUSE): Promise<void> {
  await writeEmptyBooks(file)
  addManyMovements(file, size)
}

/**
 * Adds so many movements to books that hold none of these places and lots yet; parts are added up to their number. Each lot is received into a bin, then moved, pulled onto vans and fitted, day by day, by a
 * counting that is always the same; every lot keeps pieces. The balances are kept by the books' own trigger.
 */
export function addManyMovements(file: string, size: WarehouseSize): void {
  const db = new Database(file)
  db.pragma('synchronous = OFF')
  db.pragma('foreign_keys = OFF')
  db.pragma('cache_size = -600000')
  db.transaction(() => {
    const before = { places: lastKey(db, 'places'), lots: lastKey(db, 'lots'), parts: lastKey(db, 'parts') }
    writePlaces(db, size)
    writeLots(db, size, before.parts)
    writeMovements(db, size, before)
  })()
  db.pragma('analysis_limit = 1000')
  db.pragma('optimize = 0x10002')
  db.close()
}

const lastKey = (db: Database.Database, table: 'places' | 'lots' | 'parts'): number =>
  (db.prepare(`select coalesce(max(id), 0) as id from ${table}`).get() as { id: number }).id

function writePlaces(db: Database.Database, { places }: WarehouseSize): void {
  const place = db.prepare('insert into places (office_id, kind, code, aisle, walk_order) values (1, ?, ?, ?, ?)')
  const van = db.prepare('insert into vans (office_id, name, place_id) values (1, ?, ?)')
  for (let n = 1; n <= places; n += 1) {
    const isVan = n > places - VANS
    const aisle = isVan ? '' : String.fromCharCode(65 + Math.floor((n - 1) / 30))
    const code = isVan ? `van ${n - places + VANS}` : `${aisle}-${String(n % 30).padStart(2, '0')}`
    const { lastInsertRowid } = place.run(isVan ? 'van' : 'bin', code, aisle, isVan ? 0 : n)
    if (isVan) van.run(code, lastInsertRowid)
  }
}

function writeLots(db: Database.Database, { parts, lots }: WarehouseSize, partsBefore: number): void {
  const part =
    db.prepare(`insert into parts (office_id, number, name, gtin, price_cents, cost_cents, tax_free, per_visit_quantity, note)
    values (1, ?, ?, '', ?, ?, 0, 0, '')`)
  const lot = db.prepare(
    `insert into lots (office_id, part_id, code, expires_on, received_on, cost_cents, recall_note) values (1, ?, ?, ?, ?, ?, '')`,
  )
  for (let n = partsBefore + 1; n <= parts; n += 1) part.run(`P-${1000 + n}`, `Filter ${n}`, 900 + n, 300 + n)
  for (let n = 0; n < lots; n += 1) {
    const day = dayOf(n, lots)
    lot.run(1 + (n % parts), `L-${10_000 + n}`, addDays(day, 900), day, 300 + (n % 700))
  }
}

const dayOf = (n: number, of: number) => addDays(LAST_DAY, Math.floor((n * DAYS) / of) - DAYS + 1)

/** Pieces of a lot while it is drawn from: in its bin, and by van. */
interface Drawn {
  readonly lotId: number
  readonly binId: number
  inBin: number
  readonly onVans: number[]
}

function writeMovements(
  db: Database.Database,
  { movements, parts, lots, places }: WarehouseSize,
  before: { readonly places: number; readonly lots: number },
): void {
  const write = db.prepare(MOVEMENT)
  const every = Math.floor(movements / lots)
  const inUse: Drawn[] = []
  let chance = 20_261_201
  const draw = (below: number) => {
    chance = (Math.imul(chance, 1_664_525) + 1_013_904_223) >>> 0
    return Math.floor((chance / 2 ** 32) * below)
  }
  const vanId = (van: number) => before.places + places - VANS + 1 + van
  for (let n = 0; n < movements; n += 1) {
    const day = dayOf(n, movements)
    const lot = n % every === 0 ? n / every : null
    if (lot !== null && lot < lots) {
      const got = {
        lotId: before.lots + lot + 1,
        binId: before.places + 1 + draw(places - VANS),
        inBin: 300,
        onVans: Array(VANS).fill(0),
      }
      inUse[inUse.length < IN_USE ? inUse.length : draw(IN_USE)] = got
      write.run(1 + (lot % parts), got.lotId, null, got.binId, got.inBin, 'receive', day)
      continue
    }
    const from = inUse[draw(inUse.length)]
    if (!from) continue
    const partId = 1 + ((from.lotId - before.lots - 1) % parts)
    const van = draw(3) + ((from.lotId - before.lots) % 7)
    const aboard = from.onVans[van] ?? 0
    if (aboard > 1 && draw(2) === 0) {
      from.onVans[van] = aboard - 1
      write.run(partId, from.lotId, vanId(van), null, 1, 'fit', day)
    } else if (from.inBin > 3) {
      const pieces = 1 + draw(3)
      from.inBin -= pieces
      from.onVans[van] = aboard + pieces
      write.run(partId, from.lotId, from.binId, vanId(van), pieces, 'pull', day)
    } else {
      from.inBin += 40
      write.run(partId, from.lotId, null, from.binId, 40, 'receive', day)
    }
  }
}
