import type { ReadDb } from '../database/handles.ts'
import { lifeLeftOn } from '../due/life-left.ts'
import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { CustomerId, OfficeId, SiteId } from '../units/ids.ts'
import { grouped } from './grouped.ts'
import type { LetterHousehold, LetterSite, LetterStage } from './letter-facts.ts'
import { unitHeading } from './letter-words.ts'

/** As many keys as both databases take in one question without trouble. */
const AT_ONCE = 400

/** All that letters to these customers rest on, by customer. `before` is the letter before, `daysInTown` by town. */
export async function readLetterHouseholds(
  db: ReadDb,
  officeId: OfficeId,
  customerIds: readonly CustomerId[],
  today: CalendarDate,
  daysInTown: ReadonlyMap<string, readonly CalendarDate[]>,
): Promise<Map<CustomerId, Omit<LetterHousehold, 'writtenBefore'>>> {
  const households = new Map<CustomerId, Omit<LetterHousehold, 'writtenBefore'>>()
  for (let from = 0; from < customerIds.length; from += AT_ONCE) {
    const some = customerIds.slice(from, from + AT_ONCE)
    const customers = await readCustomers(db, officeId, some)
    const sites = await readSites(db, officeId, some)
    const stages = grouped(await readStages(db, officeId, some, today), (stage) => stage.siteId)
    const sitesOf = grouped(sites, (site) => site.customer_id)
    for (const row of customers) {
      const own = sitesOf.get(row.id) ?? []
      const home = own[0]
      const elsewhere = row.mail_elsewhere === 1
      households.set(row.id, {
        customerId: row.id,
        reference: row.reference,
        salutation: row.salutation,
        taxExempt: row.tax_exempt === 1,
        address: {
          names: [row.letter_name],
          street: elsewhere ? row.mail_line1 : (home?.line1 ?? ''),
          unit: elsewhere ? row.mail_line2 : (home?.line2 ?? ''),
          town: elsewhere ? row.mail_town : (home?.town ?? ''),
          region: elsewhere ? row.mail_region : (home?.region ?? ''),
          postalCode: elsewhere ? row.mail_postal_code : (home?.postal_code ?? ''),
        },
        sites: own.map(
          (site): LetterSite => ({
            siteId: site.id,
            street: site.line1,
            town: site.town,
            people: site.people,
            hardness: site.hardness_mg_l,
            daysInTown: daysInTown.get(site.town) ?? [],
            stages: stages.get(site.id) ?? [],
          }),
        ),
      })
    }
  }
  return households
}

function readCustomers(db: ReadDb, officeId: OfficeId, ids: readonly CustomerId[]) {
  return db
    .selectFrom('customers')
    .select([
      'id',
      'reference',
      'salutation',
      'letter_name',
      'tax_exempt',
      'mail_elsewhere',
      'mail_line1',
      'mail_line2',
    ])
    .select(['mail_town', 'mail_region', 'mail_postal_code'])
    .where('office_id', '=', officeId)
    .where('id', 'in', [...ids])
    .execute()
}

/** Open places, what is due first in front. */
function readSites(db: ReadDb, officeId: OfficeId, ids: readonly CustomerId[]) {
  return db
    .selectFrom('sites')
    .select(['id', 'customer_id', 'line1', 'line2', 'town', 'region', 'postal_code', 'people', 'hardness_mg_l'])
    .where('office_id', '=', officeId)
    .where('customer_id', 'in', [...ids])
    .where('closed_on', 'is', null)
    .orderBy((eb) => eb.fn.coalesce('due_on', eb.val('9999')))
    .orderBy('id')
    .execute()
}

async function readStages(
  db: ReadDb,
  officeId: OfficeId,
  ids: readonly CustomerId[],
  today: CalendarDate,
): Promise<(LetterStage & { siteId: SiteId })[]> {
  const rows = await db
    .selectFrom('sites as t')
    .innerJoin('installations as i', (join) =>
      join.onRef('i.site_id', '=', 't.id').onRef('i.office_id', '=', 't.office_id'),
    )
    .innerJoin('stages as s', (join) =>
      join.onRef('s.installation_id', '=', 'i.id').onRef('s.office_id', '=', 'i.office_id'),
    )
    .leftJoin('parts as p', (join) => join.onRef('p.id', '=', 's.part_id').onRef('p.office_id', '=', 's.office_id'))
    .leftJoin('lots as l', (join) =>
      join.onRef('l.id', '=', 's.fitted_lot_id').onRef('l.office_id', '=', 's.office_id'),
    )
    .select([
      's.id',
      's.installation_id',
      's.kind',
      's.label',
      's.fitted_on',
      's.fitted_visit_id',
      's.due_on',
      's.due_rule',
      's.due_reason',
    ])
    .select([
      's.interval_months',
      'i.interval_months as unit_months',
      'i.installed_on',
      'i.name as unit_name',
      't.id as site_id',
      't.line1',
    ])
    .select(['p.name as part_name', 'p.price_cents', 'p.tax_free', 'p.fit_minutes', 'p.rated_ml', 'l.recalled_on'])
    .where('t.office_id', '=', officeId)
    .where('t.customer_id', 'in', [...ids])
    .where('t.closed_on', 'is', null)
    .where('i.removed_on', 'is', null)
    .where('s.removed_on', 'is', null)
    .orderBy('s.installation_id')
    .orderBy('s.position')
    .execute()
  return rows.map((row) => {
    const label = row.label === '' ? STAGE_KIND_WORDS[row.kind].name : row.label
    return {
      stageId: row.id,
      installationId: row.installation_id,
      siteId: row.site_id,
      unit: unitHeading(row.unit_name, row.line1),
      kind: row.kind,
      label,
      changedOn: row.fitted_on,
      byUs: row.fitted_visit_id !== null,
      dueOn: row.due_on,
      dueRule: row.due_rule,
      dueReason: row.due_reason,
      monthsSet: row.interval_months !== null || row.unit_months !== null,
      ratedMillilitres: row.rated_ml,
      ...lifeLeftOn(today, row.fitted_on ?? row.installed_on, row.due_on),
      partName: row.part_name ?? label,
      priceCents: row.price_cents,
      taxFree: row.tax_free === 1,
      fitMinutes: row.fit_minutes,
      recalled: row.recalled_on !== null,
    }
  })
}
