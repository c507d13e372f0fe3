import { foldText } from '../customers/fold-text.ts'
import type { ReadDb } from '../database/handles.ts'
import type { StageKind } from '../installations/stage-kinds.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { InstallationId, OfficeId, PartId, SiteId, StageId } from '../units/ids.ts'
import type { Hardness, Tds } from '../units/measures.ts'
import type { ListHousehold } from './group-rows.ts'
import { inFlow, matchingUnit, pairStages } from './join-listed.ts'
import type { ListUnit, UnitStage } from './list-units.ts'
import { normalEmail, normalPhone } from './normal-forms.ts'
import type { JoinedHousehold } from './plan-import.ts'
import { NEVER_FITTED, partOf, stageRow, type WritingPlace, writeUnits } from './write-households-store.ts'

interface KeptStage {
  readonly id: StageId
  readonly kind: StageKind
  readonly position: number
  readonly fittedOn: CalendarDate | null
  readonly months: number | null
  readonly partId: PartId | null
  readonly ownDueOn: CalendarDate | null
}

interface KeptUnit {
  readonly id: InstallationId
  readonly name: string
  readonly stages: readonly KeptStage[]
}

/**
 * Tells the books what a list knows of a household that is there already: blanks are filled, what is missing is added, a later date of
 * change stands; nothing that is written is overwritten. Returns whether anything changed.
 */
export async function joinHousehold(
  place: WritingPlace,
  { siteId, customerId, household }: JoinedHousehold,
): Promise<boolean> {
  const customer = await joinCustomer(place, customerId, household)
  const site = await fillSite(place, siteId, household)
  const units = await joinUnits(place, siteId, household.units)
  if (customer.newWords.length > 0) await addSearchWords(place, siteId, customer.newWords)
  return customer.changed || site || units
}

async function joinCustomer(
  { tx, officeId }: WritingPlace,
  customerId: JoinedHousehold['customerId'],
  household: ListHousehold,
): Promise<{ changed: boolean; newWords: string[] }> {
  const kept = await tx
    .selectFrom('customers')
    .select(['phone', 'email', 'no_mail', 'note'])
    .where('office_id', '=', officeId)
    .where('id', '=', customerId)
    .executeTakeFirstOrThrow()
  const contacts = await tx
    .selectFrom('contacts')
    .select(['name', 'phone', 'email'])
    .where('office_id', '=', officeId)
    .where('customer_id', '=', customerId)
    .execute()
  const phones = new Set([kept.phone, ...contacts.map((contact) => contact.phone)].map(normalPhone))
  const emails = new Set([kept.email, ...contacts.map((contact) => contact.email)].map(normalEmail))
  const newPhones = household.phones.filter((phone) => !phones.has(normalPhone(phone)))
  const newEmails = household.emails.filter((email) => !emails.has(normalEmail(email)))
  const changes = {
    ...(kept.phone === '' && newPhones[0] !== undefined ? { phone: newPhones.shift() ?? '' } : {}),
    ...(kept.email === '' && newEmails[0] !== undefined ? { email: newEmails.shift() ?? '' } : {}),
    ...(kept.no_mail === 0 && household.noMail ? { no_mail: 1 as const } : {}),
    ...addedNote(kept.note, household.note),
  }
  const changed = Object.keys(changes).length > 0
  if (changed) {
    await tx
      .updateTable('customers')
      .set((row) => ({ ...changes, version: row('version', '+', 1) }))
      .where('office_id', '=', officeId)
      .where('id', '=', customerId)
      .execute()
  }
  const further = Math.max(newPhones.length, newEmails.length)
  for (let index = 0; index < further; index++) {
    await tx
      .insertInto('contacts')
      .values({
        office_id: officeId,
        customer_id: customerId,
        name: household.contact || household.names.letterName,
        role: 'further number',
        phone: newPhones[index] ?? '',
        email: newEmails[index] ?? '',
        note: '',
      })
      .execute()
  }
  return {
    changed: changed || further > 0,
    newWords: [...household.phones, ...household.emails].filter(() => changed || further > 0),
  }
}

function addedNote(kept: string, told: string): { note?: string } {
  const fresh = told.split('\n').filter((line) => line !== '' && !kept.includes(line))
  return fresh.length === 0 ? {} : { note: [kept, ...fresh].filter((line) => line !== '').join('\n') }
}

async function fillSite({ tx, officeId }: WritingPlace, siteId: SiteId, household: ListHousehold): Promise<boolean> {
  const kept = await tx
    .selectFrom('sites')
    .select(['people', 'hardness_mg_l', 'feed_tds_mg_l', 'line1'])
    .where('office_id', '=', officeId)
    .where('id', '=', siteId)
    .executeTakeFirstOrThrow()
  const { address } = household
  const changes = {
    ...(kept.people === null && household.people !== null ? { people: household.people } : {}),
    ...(kept.hardness_mg_l === null && household.hardness !== null
      ? { hardness_mg_l: household.hardness as Hardness }
      : {}),
    ...(kept.feed_tds_mg_l === null && household.tds !== null ? { feed_tds_mg_l: household.tds as Tds } : {}),
    ...(kept.line1 === '' && address.line1 !== ''
      ? {
          line1: address.line1,
          line2: address.line2,
          town: address.town,
          region: address.region,
          postal_code: address.postalCode,
        }
      : {}),
  }
  if (Object.keys(changes).length === 0) return false
  await tx
    .updateTable('sites')
    .set((row) => ({ ...changes, version: row('version', '+', 1) }))
    .where('office_id', '=', officeId)
    .where('id', '=', siteId)
    .execute()
  return true
}

async function joinUnits(place: WritingPlace, siteId: SiteId, told: readonly ListUnit[]): Promise<boolean> {
  if (told.length === 0) return false
  const kept = await readUnits(place.read, place.officeId, siteId)
  let changed = false
  for (const unit of told) {
    const there = kept[matchingUnit(kept, unit.name)]
    if (there === undefined) {
      await writeUnits(place, [{ unit, siteId }])
      changed = true
    } else if (await joinStages(place, there, unit)) changed = true
  }
  return changed
}

async function joinStages(place: WritingPlace, kept: KeptUnit, unit: ListUnit): Promise<boolean> {
  const { tx, officeId } = place
  const { pairs, added } = pairStages(kept.stages, unit.stages)
  let changed = added.length > 0
  for (const [at, told] of pairs) {
    const stage = kept.stages[at]
    if (stage === undefined) continue
    const later = told.changedOn !== null && (stage.fittedOn === null || told.changedOn > stage.fittedOn)
    const partId = stage.partId ?? partOf(place, told)
    const changes = {
      ...(later ? { fitted_on: told.changedOn } : {}),
      ...(stage.months === null && told.months !== null ? { interval_months: told.months } : {}),
      ...(partId !== stage.partId ? { part_id: partId } : {}),
      ...(stage.fittedOn === null && stage.ownDueOn === null && told.dueOn !== null
        ? { own_due_on: told.dueOn, own_due_note: 'from the list that was taken in', own_due_until: NEVER_FITTED }
        : {}),
    }
    if (Object.keys(changes).length === 0) continue
    changed = true
    await tx
      .updateTable('stages')
      .set((row) => ({ ...changes, version: row('version', '+', 1) }))
      .where('office_id', '=', officeId)
      .where('id', '=', stage.id)
      .execute()
  }
  if (added.length > 0) await addStages(place, kept, added)
  return changed
}

/** Puts further stages where they stand in the flow; those behind them move on. */
async function addStages(place: WritingPlace, kept: KeptUnit, added: readonly UnitStage[]): Promise<void> {
  const { tx, officeId } = place
  for (const [index, stage] of inFlow<KeptStage | UnitStage>(kept.stages, added).entries()) {
    const position = index + 1
    if (!('id' in stage)) {
      await tx
        .insertInto('stages')
        .values(stageRow(place, kept.id, position, stage))
        .execute()
    } else if (stage.position !== position) {
      await tx
        .updateTable('stages')
        .set((row) => ({ position, version: row('version', '+', 1) }))
        .where('office_id', '=', officeId)
        .where('id', '=', stage.id)
        .execute()
    }
  }
}

async function readUnits(db: ReadDb, officeId: OfficeId, siteId: SiteId): Promise<KeptUnit[]> {
  const installations = await db
    .selectFrom('installations')
    .select(['id', 'name'])
    .where('office_id', '=', officeId)
    .where('site_id', '=', siteId)
    .where('removed_on', 'is', null)
    .orderBy('id')
    .execute()
  if (installations.length === 0) return []
  const rows = await db
    .selectFrom('stages')
    .select(['id', 'installation_id', 'kind', 'position', 'fitted_on', 'interval_months', 'part_id', 'own_due_on'])
    .where('office_id', '=', officeId)
    .where(
      'installation_id',
      'in',
      installations.map((installation) => installation.id),
    )
    .where('removed_on', 'is', null)
    .orderBy('position')
    .execute()
  return installations.map(({ id, name }) => ({
    id,
    name,
    stages: rows
      .filter((row) => row.installation_id === id)
      .map((row) => ({
        id: row.id,
        kind: row.kind,
        position: row.position,
        fittedOn: row.fitted_on,
        months: row.interval_months,
        partId: row.part_id,
        ownDueOn: row.own_due_on,
      })),
  }))
}

async function addSearchWords({ tx, officeId }: WritingPlace, siteId: SiteId, words: readonly string[]): Promise<void> {
  const kept = await tx
    .selectFrom('site_search')
    .select('words')
    .where('office_id', '=', officeId)
    .where('site_id', '=', siteId)
    .executeTakeFirst()
  const pieces = new Set([
    ...(kept?.words.split('\n') ?? []),
    ...words.map(foldText),
    ...words.map((word) => normalPhone(word)),
  ])
  const text = [...pieces].filter((piece) => piece !== '').join('\n')
  await tx
    .insertInto('site_search')
    .values({ office_id: officeId, site_id: siteId, words: text })
    .onConflict((row) => row.columns(['office_id', 'site_id']).doUpdateSet({ words: text }))
    .execute()
}
