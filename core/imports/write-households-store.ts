import type { Insertable } from 'kysely'
import { searchTextOf } from '../customers/search-words.ts'
import type { DialectName, ReadDb, WriteDb } from '../database/handles.ts'
import { reserveIds } from '../database/reserve-ids.ts'
import type { OfficeTables } from '../database/schema.ts'
import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import { type CalendarDate, calendarDate } from '../units/calendar-date.ts'
import type { CustomerId, InstallationId, OfficeId, PartId, SiteId } from '../units/ids.ts'
import type { Hardness, Tds } from '../units/measures.ts'
import type { ListHousehold } from './group-rows.ts'
import type { ListUnit, UnitStage } from './list-units.ts'
import type { FreshHousehold } from './plan-import.ts'

/** What every written row needs to know. */
export interface WritingPlace {
  readonly tx: WriteDb
  readonly read: ReadDb
  readonly dialect: DialectName
  readonly officeId: OfficeId
  readonly today: CalendarDate
  readonly country: string
  readonly parts: ReadonlyMap<string, PartId>
  /** Customer numbers given away, in small letters; grows. */
  readonly references: Set<string>
}

/** What a due date of the list is set against: a stage that was never dated, so that any change ends it. */
export const NEVER_FITTED = calendarDate('0001-01-01')

/** Rows to a statement: below the number of values that either database takes at once. */
const ROWS = 1_000

/** Writes new households with everything that belongs to them; returns their sites in order. `customerIds` grows along with `fresh`. */
export async function writeFreshHouseholds(
  place: WritingPlace,
  fresh: readonly FreshHousehold[],
  customerIds: CustomerId[],
): Promise<SiteId[]> {
  const { tx, dialect, officeId } = place
  const newOnes = fresh.filter(({ customer }) => customer.kind === 'new').length
  const reserved = (await reserveIds(tx, dialect, 'customers', newOnes)) as CustomerId[]
  const siteIds = (await reserveIds(tx, dialect, 'sites', fresh.length)) as SiteId[]
  const customers: Insertable<OfficeTables['customers']>[] = []
  const contacts: Insertable<OfficeTables['contacts']>[] = []
  const sites: Insertable<OfficeTables['sites']>[] = []
  const words: Insertable<OfficeTables['site_search']>[] = []
  for (const [index, { household, customer }] of fresh.entries()) {
    const siteId = siteIds[index]
    const customerId =
      customer.kind === 'new'
        ? reserved.shift()
        : customer.kind === 'books'
          ? customer.customerId
          : customerIds[customer.index]
    if (siteId === undefined || customerId === undefined) throw new Error('A household has no key reserved')
    customerIds.push(customerId)
    if (customer.kind === 'new') customers.push(customerRow(place, customerId, household))
    contacts.push(...contactRows(officeId, customerId, household))
    sites.push(siteRow(place, siteId, customerId, household))
    words.push({ office_id: officeId, site_id: siteId, words: wordsOf(household) })
  }
  await inBatches(customers, (batch) => tx.insertInto('customers').values(batch).execute())
  await inBatches(contacts, (batch) => tx.insertInto('contacts').values(batch).execute())
  await inBatches(sites, (batch) => tx.insertInto('sites').values(batch).execute())
  await inBatches(words, (batch) => tx.insertInto('site_search').values(batch).execute())
  const units = fresh.flatMap(({ household }, index) =>
    household.units.map((unit) => ({ unit, siteId: siteIds[index] as SiteId })),
  )
  await writeUnits(place, units)
  return siteIds
}

/** Writes units with their stages. */
export async function writeUnits(
  place: WritingPlace,
  units: readonly { readonly unit: ListUnit; readonly siteId: SiteId }[],
): Promise<void> {
  const { tx, dialect, officeId } = place
  const ids = (await reserveIds(tx, dialect, 'installations', units.length)) as InstallationId[]
  const installations: Insertable<OfficeTables['installations']>[] = []
  const stages: Insertable<OfficeTables['stages']>[] = []
  for (const [index, { unit, siteId }] of units.entries()) {
    const id = ids[index]
    if (id === undefined) throw new Error('A unit has no key reserved')
    installations.push({
      id,
      office_id: officeId,
      site_id: siteId,
      name: unit.name,
      installed_on: unit.installedOn,
      removed_on: null,
      recovery_percent: null,
      people: null,
      daily_ml: null,
      interval_months: unit.everyMonths,
      due_on: null,
      note: unknownParts(place, unit.stages),
    })
    for (const [position, stage] of unit.stages.entries()) stages.push(stageRow(place, id, position + 1, stage))
  }
  await inBatches(installations, (batch) => tx.insertInto('installations').values(batch).execute())
  await inBatches(stages, (batch) => tx.insertInto('stages').values(batch).execute())
}

export function stageRow(
  place: WritingPlace,
  installationId: InstallationId,
  position: number,
  stage: UnitStage,
): Insertable<OfficeTables['stages']> {
  return {
    office_id: place.officeId,
    installation_id: installationId,
    position,
    kind: stage.kind,
    label: stage.label,
    part_id: partOf(place, stage),
    fitted_on: stage.changedOn,
    interval_months: stage.months,
    own_due_on: stage.dueOn,
    own_due_note: stage.dueOn === null ? '' : 'from the list that was taken in',
    own_due_until: stage.dueOn === null ? null : NEVER_FITTED,
  }
}

export function partOf(place: WritingPlace, stage: UnitStage): PartId | null {
  return stage.part === '' ? null : (place.parts.get(stage.part.toLowerCase()) ?? null)
}

/** Part numbers that the catalogue does not have, kept in the unit's note. */
export function unknownParts(place: WritingPlace, stages: readonly UnitStage[]): string {
  return stages
    .filter((stage) => stage.part !== '' && partOf(place, stage) === null)
    .map((stage) => `${stage.label || STAGE_KIND_WORDS[stage.kind].name}: part ${stage.part}, not in the catalogue`)
    .join('\n')
}

function customerRow(
  place: WritingPlace,
  id: CustomerId,
  household: ListHousehold,
): Insertable<OfficeTables['customers']> {
  const { names, mail } = household
  return {
    id,
    office_id: place.officeId,
    reference: freeReference(place.references, household.reference, id),
    kind: household.name.kind,
    sort_name: names.sortName,
    letter_name: names.letterName,
    salutation: names.salutation,
    phone: household.phones[0] ?? '',
    phone_note: '',
    email: household.emails[0] ?? '',
    mail_line1: mail?.line1 ?? '',
    mail_line2: mail?.line2 ?? '',
    mail_town: mail?.town ?? '',
    mail_region: mail?.region ?? '',
    mail_postal_code: mail?.postalCode ?? '',
    mail_country: mail?.country ?? '',
    mail_elsewhere: mail === null ? 0 : 1,
    no_mail: household.noMail ? 1 : 0,
    moved_on: null,
    payment_terms_days: null,
    note: household.note,
    created_on: place.today,
    closed_on: null,
  }
}

/** The list's own customer number while it is free, else one of ours. */
function freeReference(taken: Set<string>, wanted: string, id: CustomerId): string {
  let reference = wanted.slice(0, 40)
  for (let more = 0; reference === '' || taken.has(reference.toLowerCase()); more += 1)
    reference = `H-${1000 + id + more}`
  taken.add(reference.toLowerCase())
  return reference
}

/** Whoever is to be asked for, and further telephones and e-mails, each a contact. */
export function contactRows(
  officeId: OfficeId,
  customerId: CustomerId,
  household: ListHousehold,
): Insertable<OfficeTables['contacts']>[] {
  const further = Math.max(household.phones.length, household.emails.length, household.contact === '' ? 1 : 2)
  return Array.from({ length: further - 1 }, (_, index) => ({
    office_id: officeId,
    customer_id: customerId,
    name: (index === 0 ? household.contact : '') || household.names.letterName,
    role: index === 0 && household.contact !== '' ? 'to ask for' : 'further number',
    phone: household.phones[index + 1] ?? '',
    email: household.emails[index + 1] ?? '',
    note: '',
  }))
}

function siteRow(
  place: WritingPlace,
  id: SiteId,
  customerId: CustomerId,
  household: ListHousehold,
): Insertable<OfficeTables['sites']> {
  const { address } = household
  return {
    id,
    office_id: place.officeId,
    customer_id: customerId,
    line1: address.line1,
    line2: address.line2,
    town: address.town,
    region: address.region,
    postal_code: address.postalCode,
    country: address.country || place.country,
    latitude: null,
    longitude: null,
    access_note: '',
    water_source: 'unknown',
    hardness_mg_l: household.hardness as Hardness | null,
    feed_tds_mg_l: household.tds as Tds | null,
    people: household.people,
    daily_ml: null,
    due_on: null,
    closed_on: null,
  }
}

function wordsOf(household: ListHousehold): string {
  const { address, mail } = household
  const lines = [address, ...(mail ? [mail] : [])].flatMap((place) => [
    place.line1,
    place.line2,
    place.town,
    place.region,
    place.postalCode,
  ])
  return searchTextOf({
    names: [household.names.sortName, household.names.letterName, household.contact],
    addressLines: lines,
    phones: household.phones,
    emails: household.emails,
    reference: household.reference,
  })
}

async function inBatches<Row>(rows: readonly Row[], insert: (batch: Row[]) => Promise<unknown>): Promise<void> {
  for (let from = 0; from < rows.length; from += ROWS) await insert(rows.slice(from, from + ROWS))
}
