import type { OpenBooks } from '../answering.ts'
import { searchTextOf } from '../customers/search-words.ts'
import { reserveIds } from '../database/reserve-ids.ts'
import { dateOfDayNumber } from '../units/calendar-date.ts'
import {
  type CustomerId,
  customerIdSchema,
  type InstallationId,
  installationIdSchema,
  type PartId,
  type PlaceId,
  partIdSchema,
  placeIdSchema,
  type SiteId,
  type StageId,
  type SupplierId,
  siteIdSchema,
  stageIdSchema,
  supplierIdSchema,
  type TechnicianId,
  technicianIdSchema,
  type VanId,
  vanIdSchema,
} from '../units/ids.ts'
import { gallonsToMillilitres, hardness, tds } from '../units/measures.ts'
import { cents } from '../units/money.ts'
import { minutes, timeOfDay } from '../units/time-of-day.ts'
import { type DemoKeys, demoKeys } from './demo-keys.ts'
import { demoNames } from './demo-names.ts'
import type { DemoHousehold, DemoOffice } from './demo-records.ts'
import { insertRows } from './demo-rows-store.ts'
import { SCENARIO } from './scenario.ts'

/** Room that a sachet or a set of rings takes, that a cartridge in its box takes, and that a van's racks have; millilitres. */
const [SMALL_ML, CARTRIDGE_ML, VAN_ML] = [100, 2_500, 120_000]

export interface WarehouseKeys {
  readonly parts: DemoKeys<PartId>
  readonly bins: DemoKeys<PlaceId>
  readonly vanPlaces: DemoKeys<PlaceId>
  readonly vans: DemoKeys<VanId>
  readonly quarantine: PlaceId
  readonly way: PlaceId
  readonly technicians: DemoKeys<TechnicianId>
  readonly suppliers: DemoKeys<SupplierId>
}

/** Parts, bins, vans, technicians and suppliers of the scenario. */
export async function insertWarehouse(books: OpenBooks, office: DemoOffice): Promise<WarehouseKeys> {
  const { tx, dialect, officeId: office_id } = books
  const parts = demoKeys('part', await reserveIds(tx, dialect, 'parts', SCENARIO.parts.length), partIdSchema)
  const places = await reserveIds(tx, dialect, 'places', SCENARIO.bins.length + SCENARIO.technicians.length + 2)
  const bins = demoKeys('bin', places.slice(0, SCENARIO.bins.length), placeIdSchema)
  const vanPlaces = demoKeys('van', places.slice(SCENARIO.bins.length), placeIdSchema)
  const technicians = demoKeys(
    'technician',
    await reserveIds(tx, dialect, 'technicians', SCENARIO.technicians.length),
    technicianIdSchema,
  )
  const vans: DemoKeys<VanId> = demoKeys(
    'van',
    await reserveIds(tx, dialect, 'vans', SCENARIO.technicians.length),
    vanIdSchema,
  )
  const suppliers = demoKeys(
    'supplier',
    await reserveIds(tx, dialect, 'suppliers', SCENARIO.suppliers.length),
    supplierIdSchema,
  )
  await insertRows(
    tx,
    'parts',
    SCENARIO.parts.map((part, place) => ({
      id: parts.at(place),
      office_id,
      number: part.number,
      name: part.name,
      stage_kind: part.kind,
      gtin: '',
      price_cents: cents(part.price),
      cost_cents: cents(part.cost),
      rated_ml: part.ratedGallons > 0 ? gallonsToMillilitres(part.ratedGallons) : null,
      shelf_months: part.shelfMonths > 0 ? part.shelfMonths : null,
      fit_minutes: part.minutes > 0 ? minutes(part.minutes) : null,
      per_visit_quantity: part.perVisit,
      van_par: part.vanPar,
      space_ml: part.kind === null ? SMALL_ML : CARTRIDGE_ML,
      note: '',
    })),
  )
  await insertRows(tx, 'places', [
    ...SCENARIO.bins.map((code, place) => ({
      id: bins.at(place),
      office_id,
      kind: 'bin' as const,
      code,
      aisle: code.slice(0, 1),
      walk_order: place + 1,
    })),
    ...SCENARIO.technicians.map((_, place) => ({
      id: vanPlaces.at(place),
      office_id,
      kind: 'van' as const,
      code: `van ${place + 1}`,
      aisle: '',
      walk_order: 1000 + place,
    })),
    {
      id: vanPlaces.at(SCENARIO.technicians.length),
      office_id,
      kind: 'quarantine' as const,
      code: 'quarantine',
      aisle: '',
      walk_order: 2000,
    },
    {
      id: vanPlaces.at(SCENARIO.technicians.length + 1),
      office_id,
      kind: 'transit' as const,
      code: 'on the way',
      aisle: '',
      walk_order: 0,
    },
  ])
  await insertRows(
    tx,
    'part_bins',
    SCENARIO.parts.map((part, place) => ({ office_id, part_id: parts.at(place), place_id: bins.at(part.bin) })),
  )
  await insertRows(
    tx,
    'technicians',
    SCENARIO.technicians.map((person, place) => ({
      id: technicians.at(place),
      office_id,
      name: person.name,
      short_name: person.shortName,
      phone: person.phone,
      workdays: '12345',
      starts_at: timeOfDay(8 * 60),
      ends_at: timeOfDay(17 * 60),
      minutes_a_day: minutes(480),
    })),
  )
  await insertRows(
    tx,
    'vans',
    SCENARIO.technicians.map((_, place) => ({
      id: vans.at(place),
      office_id,
      name: `van ${place + 1}`,
      place_id: vanPlaces.at(place),
      technician_id: technicians.at(place),
      space_ml: VAN_ML,
    })),
  )
  await insertRows(
    tx,
    'days_off',
    office.daysOff.map((off) => ({
      office_id,
      technician_id: technicians.at(off.technician),
      from_on: dateOfDayNumber(off.from),
      until_on: dateOfDayNumber(off.until),
      reason: off.reason,
    })),
  )
  await insertSuppliers(books, suppliers, parts)
  const quarantine = vanPlaces.at(SCENARIO.technicians.length)
  const way = vanPlaces.at(SCENARIO.technicians.length + 1)
  return { parts, bins, vanPlaces, vans, quarantine, way, technicians, suppliers }
}

async function insertSuppliers(
  { tx, officeId: office_id }: OpenBooks,
  suppliers: DemoKeys<SupplierId>,
  parts: DemoKeys<PartId>,
): Promise<void> {
  await insertRows(
    tx,
    'suppliers',
    SCENARIO.suppliers.map((supplier, place) => ({
      id: suppliers.at(place),
      office_id,
      name: supplier.name,
      account: supplier.account,
      line1: supplier.line1,
      line2: '',
      town: supplier.town,
      region: 'XX',
      postal_code: supplier.postalCode,
      country: 'US',
      phone: supplier.phone,
      email: supplier.email,
      lead_time_days: supplier.leadTimeDays,
      minimum_order_cents: cents(supplier.minimumOrderCents),
      note: '',
    })),
  )
  await insertRows(
    tx,
    'supplier_terms',
    SCENARIO.parts.map((part, place) => ({
      office_id,
      supplier_id: suppliers.at(part.supplier),
      part_id: parts.at(place),
      supplier_number: `${part.number.replace('P-', 'Q')}`,
      price_cents: cents(part.cost),
      pack_size: part.pack,
      minimum_quantity: part.pack,
      preferred: 1 as const,
    })),
  )
}

export interface HouseholdKeys {
  readonly customers: DemoKeys<CustomerId>
  readonly sites: DemoKeys<SiteId>
  readonly installationOf: (household: number, unit: number) => InstallationId
  /** The key of a household's stage by its place in flow order. */
  readonly stageOf: (household: number, stage: number) => StageId
}

/** Customers, sites, installations and stages. `changedOn` says when each stage was last seen to, and with which lot. */
export async function insertHouseholds(
  books: OpenBooks,
  office: DemoOffice,
  warehouse: WarehouseKeys,
): Promise<HouseholdKeys> {
  const { tx, dialect, officeId: office_id } = books
  const count = office.households.length
  const people = demoKeys('customer', await reserveIds(tx, dialect, 'customers', count), customerIdSchema)
  const customers: DemoKeys<CustomerId> = { at: (place) => people.at(office.households[place]?.customer ?? place) }
  const sites = demoKeys('site', await reserveIds(tx, dialect, 'sites', count), siteIdSchema)
  const installationOf = await installationKeys(books, office)
  const firstStage: number[] = []
  let stages = 0
  for (const household of office.households) {
    firstStage.push(stages)
    stages += household.stages.length
  }
  const stageKeys = demoKeys('stage', await reserveIds(tx, dialect, 'stages', stages), stageIdSchema)
  const stageOf = (household: number, stage: number) => stageKeys.at((firstStage[household] ?? 0) + stage)
  await insertRows(
    tx,
    'customers',
    office.households.flatMap((household, place) =>
      household.customer === place ? [customerRow(household, people.at(place), office_id)] : [],
    ),
  )
  await insertRows(
    tx,
    'sites',
    office.households.map((household, place) => siteRow(household, sites.at(place), customers.at(place), office_id)),
  )
  await insertRows(
    tx,
    'site_search',
    office.households.map((household, place) => ({
      office_id,
      site_id: sites.at(place),
      words: searchTextOfDemo(household),
    })),
  )
  const keys = { customers, sites, installationOf, stageOf }
  await insertUnits(books, office, warehouse, keys)
  return keys
}

/** Keys of the units: the first of each household by its place, further ones after all of those. */
async function installationKeys(
  { tx, dialect }: OpenBooks,
  office: DemoOffice,
): Promise<HouseholdKeys['installationOf']> {
  const count = office.households.length
  const further = office.households.flatMap(({ units }, household) =>
    units.slice(1).map((_, index) => ({ household, unit: index + 1 })),
  )
  const keys = demoKeys(
    'installation',
    await reserveIds(tx, dialect, 'installations', count + further.length),
    installationIdSchema,
  )
  return (household, unit) =>
    keys.at(
      unit === 0 ? household : count + further.findIndex((one) => one.household === household && one.unit === unit),
    )
}

async function insertUnits(
  { tx, officeId: office_id }: OpenBooks,
  office: DemoOffice,
  warehouse: WarehouseKeys,
  { sites, installationOf, stageOf }: HouseholdKeys,
): Promise<void> {
  await insertRows(
    tx,
    'installations',
    office.households.flatMap((household, place) =>
      household.units.map((name, unit) => ({
        id: installationOf(place, unit),
        office_id,
        site_id: sites.at(place),
        name,
        installed_on: dateOfDayNumber(household.since),
        removed_on: household.movedOn === null ? null : dateOfDayNumber(household.movedOn),
        note: '',
      })),
    ),
  )
  await insertRows(
    tx,
    'stages',
    office.households.flatMap((household, place) =>
      household.stages.map((stage, position) => ({
        id: stageOf(place, position),
        office_id,
        installation_id: installationOf(place, stage.unit),
        position: household.stages.slice(0, position).filter(({ unit }) => unit === stage.unit).length + 1,
        kind: stage.kind,
        label: '',
        part_id: stage.part === null ? null : warehouse.parts.at(stage.part),
        fitted_on: dateOfDayNumber(household.since),
      })),
    ),
  )
}

function customerRow(household: DemoHousehold, id: CustomerId, office_id: OpenBooks['officeId']) {
  const { sortName, letterName, salutation } = demoNames(household)
  return {
    id,
    office_id,
    reference: household.reference,
    kind: household.business ? ('business' as const) : ('person' as const),
    sort_name: sortName,
    letter_name: letterName,
    salutation,
    phone: household.phone,
    phone_note: household.phoneNote,
    email: household.email,
    mail_line1: '',
    mail_line2: '',
    mail_town: '',
    mail_region: '',
    mail_postal_code: '',
    mail_country: '',
    no_mail: household.noMail ? (1 as const) : (0 as const),
    moved_on: household.movedOn === null ? null : dateOfDayNumber(household.movedOn),
    note: '',
    created_on: dateOfDayNumber(household.since),
    closed_on: household.movedOn === null ? null : dateOfDayNumber(household.movedOn),
  }
}

function siteRow(household: DemoHousehold, id: SiteId, customer_id: CustomerId, office_id: OpenBooks['officeId']) {
  const town = SCENARIO.towns[household.town]
  return {
    id,
    office_id,
    customer_id,
    line1: household.line1,
    line2: '',
    town: town?.name ?? '',
    region: 'XX',
    postal_code: town?.postalCode ?? '',
    country: 'US',
    latitude: household.latitude,
    longitude: household.longitude,
    access_note: household.accessNote,
    water_source: household.wellWater ? ('well' as const) : ('mains' as const),
    hardness_mg_l: hardness(household.hardness),
    feed_tds_mg_l: tds(household.tds),
    people: household.people,
    months_away: household.monthsAway,
    plan_align: household.visitedTogether ? (1 as const) : (0 as const),
    closed_on: household.movedOn === null ? null : dateOfDayNumber(household.movedOn),
  }
}

function searchTextOfDemo(household: DemoHousehold): string {
  const { sortName, letterName } = demoNames(household)
  const town = SCENARIO.towns[household.town]
  return searchTextOf({
    names: [sortName, letterName],
    addressLines: [household.line1, town?.name ?? '', town?.postalCode ?? ''],
    phones: [household.phone],
    emails: household.email === '' ? [] : [household.email],
    reference: household.reference,
  })
}
