import { implement } from '@orpc/server'
import type { z } from 'zod'
import { answer, type Desk, type OpenBooks } from '../answering.ts'
import type { FollowUp } from '../happenings.ts'
import { ok, type Result, refused } from '../result.ts'
import type { SiteId } from '../units/ids.ts'
import { changedFields, changesInWords } from './changes-in-words.ts'
import { type CustomerFields, householdsContract, type SiteFields } from './customers-contract.ts'
import {
  deleteContact,
  findHousehold,
  type Household,
  insertCustomer,
  insertSite,
  putContact,
  setCustomerMoved,
  setReference,
  setSiteClosed,
  siteIdsOfCustomer,
  updateCustomer,
  updateSite,
} from './customers-store.ts'
import { CUSTOMER_WORDS, SITE_WORDS } from './field-words.ts'
import { countHouseholds, type HouseholdsWanted, listHouseholds, pageEndOf } from './households-store.ts'
import { monthsAwayInWords, readMonthsAway } from './months-away.ts'
import { referenceFor } from './reference.ts'
import { refreshSearch } from './search-store.ts'

type Inputs = {
  [Name in keyof typeof householdsContract]: z.infer<
    NonNullable<(typeof householdsContract)[Name]['~orpc']['inputSchema']>
  >
}

async function list(desk: Desk, wanted: HouseholdsWanted) {
  const rows = await listHouseholds(desk.read, desk.dialect, desk.officeId, wanted)
  const last = rows.length === wanted.limit ? rows.at(-1) : undefined
  return ok({ rows, next: last ? pageEndOf(last, wanted.sort) : null })
}

function create(desk: Desk, { customer, site }: Inputs['create']) {
  return desk.write(async (books) => {
    const customerId = await insertCustomer(books.tx, books.officeId, customer, books.today)
    await setReference(books.tx, books.officeId, customerId, referenceFor(customer.sortName, customerId))
    const siteId = await insertSite(books.tx, books.officeId, customerId, site)
    await logged(books, siteId, 'added', `${customer.sortName} was added to the households`)
    const told = await books.happened({ kind: 'sites-changed', siteIds: [siteId] })
    return told.ok ? ok({ siteId, customerId }) : told
  })
}

/** Months are said by their names. */
function siteChanges(seen: SiteFields, now: SiteFields): string | null {
  const said = (site: SiteFields): SiteFields => ({
    ...site,
    monthsAway: monthsAwayInWords(readMonthsAway(site.monthsAway)),
  })
  return changesInWords(said(seen), said(now), SITE_WORDS)
}

function save(desk: Desk, { siteId, customer, site, seen }: Inputs['save']) {
  return withHousehold(desk, siteId, async (books, now) => {
    const meanwhile = [changesInWords(seen.customer, now.customer, CUSTOMER_WORDS), siteChanges(seen.site, now.site)]
    const changes = meanwhile.filter((words) => words !== null).join('; ')
    if (changes !== '') return refused('RECORD_CHANGED', { what: now.customer.sortName, changes })
    const names = [
      ...changedFields<CustomerFields>(now.customer, customer).map((name) => CUSTOMER_WORDS[name]),
      ...changedFields<SiteFields>(now.site, site).map((name) => SITE_WORDS[name]),
    ]
    if (names.length === 0) return ok(undefined)
    await updateCustomer(books.tx, books.officeId, now.customerId, customer)
    await updateSite(books.tx, books.officeId, siteId, site)
    const details = [changesInWords(now.customer, customer, CUSTOMER_WORDS), siteChanges(now.site, site)]
    await logged(
      books,
      siteId,
      'changed',
      `Changed: ${names.join(', ')}`,
      details.filter((words) => words !== null).join('; '),
    )
    const told = await books.happened({ kind: 'customer-changed', customerId: now.customerId })
    return told.ok ? books.happened({ kind: 'sites-changed', siteIds: [siteId] }) : told
  })
}

function close(desk: Desk, { siteId, reason }: Inputs['close']) {
  return withHousehold(desk, siteId, async (books, now) => {
    await setSiteClosed(books.tx, books.officeId, siteId, books.today)
    await logged(books, siteId, 'closed', `${now.customer.sortName} was closed: ${reason}`)
    return books.happened({ kind: 'sites-changed', siteIds: [siteId] })
  })
}

function reopen(desk: Desk, { siteId }: Inputs['reopen']) {
  return withHousehold(desk, siteId, async (books, now) => {
    await setSiteClosed(books.tx, books.officeId, siteId, null)
    await logged(books, siteId, 'opened again', `${now.customer.sortName} was opened again`)
    return books.happened({ kind: 'sites-changed', siteIds: [siteId] })
  })
}

function moved(desk: Desk, input: Inputs['moved']) {
  return withHousehold(desk, input.siteId, async (books, now) => {
    await setCustomerMoved(books.tx, books.officeId, now.customerId, input.moved ? books.today : null)
    await logged(
      books,
      input.siteId,
      'moved',
      input.moved ? `${now.customer.sortName} has moved away` : `${now.customer.sortName} has not moved after all`,
    )
    return books.happened({ kind: 'customer-changed', customerId: now.customerId })
  })
}

function noMail(desk: Desk, input: Inputs['noMail']) {
  return withHousehold(desk, input.siteId, async (books, now) => {
    await updateCustomer(books.tx, books.officeId, now.customerId, { ...now.customer, noMail: input.noMail })
    await logged(
      books,
      input.siteId,
      'mail',
      input.noMail ? `${now.customer.sortName} asked for no mail` : `${now.customer.sortName} takes mail again`,
    )
    return books.happened({ kind: 'customer-changed', customerId: now.customerId })
  })
}

function saveContact(desk: Desk, { siteId, contactId, fields }: Inputs['saveContact']) {
  return desk.write(async (books) => {
    const now = await findHousehold(books.read, books.officeId, siteId)
    if (!now) return refused('RECORD_GONE', { what: 'This household' })
    const saved = await putContact(books.tx, books.officeId, now.customerId, contactId, fields)
    if (saved === null) return refused('RECORD_GONE', { what: fields.name })
    await logged(
      books,
      siteId,
      'contact',
      contactId === null ? `${fields.name} was added as a contact` : `Contact ${fields.name} was changed`,
    )
    const told = await books.happened({ kind: 'customer-changed', customerId: now.customerId })
    return told.ok ? ok({ contactId: saved }) : told
  })
}

function removeContact(desk: Desk, { siteId, contactId }: Inputs['removeContact']) {
  return withHousehold(desk, siteId, async (books, now) => {
    await deleteContact(books.tx, books.officeId, now.customerId, contactId)
    await logged(books, siteId, 'contact', 'A contact was taken out')
    return books.happened({ kind: 'customer-changed', customerId: now.customerId })
  })
}

/** One change of one household, which must still be in the books. */
function withHousehold(
  desk: Desk,
  siteId: SiteId,
  job: (books: OpenBooks, now: Household) => Promise<Result<void>>,
): Promise<Result<{ siteId: SiteId }>> {
  return desk.write(async (books) => {
    const now = await findHousehold(books.read, books.officeId, siteId)
    if (!now) return refused('RECORD_GONE', { what: 'This household' })
    const done = await job(books, now)
    return done.ok ? ok({ siteId }) : done
  })
}

function logged(books: OpenBooks, siteId: SiteId, verb: string, sentence: string, details = ''): Promise<void> {
  return books.record({ subjectKind: 'household', subjectId: siteId, siteId, verb, sentence, details })
}

/** The search text of a household follows whatever it is made of. */
export const searchFollowUp: FollowUp<OpenBooks> = async (books, happening) => {
  if (happening.kind === 'sites-changed') await refreshSearch(books.tx, books.officeId, happening.siteIds)
  if (happening.kind === 'customer-changed')
    await refreshSearch(
      books.tx,
      books.officeId,
      await siteIdsOfCustomer(books.read, books.officeId, happening.customerId),
    )
  return ok(undefined)
}

const door = implement(householdsContract).$context<Desk>()
export const householdsAnswers = door.router({
  list: door.list.handler(answer(list)),
  count: door.count.handler(
    answer(async (desk, input) =>
      ok({ total: await countHouseholds(desk.read, desk.dialect, desk.officeId, input.search, input.withClosed) }),
    ),
  ),
  create: door.create.handler(answer(create)),
  save: door.save.handler(answer(save)),
  close: door.close.handler(answer(close)),
  reopen: door.reopen.handler(answer(reopen)),
  moved: door.moved.handler(answer(moved)),
  noMail: door.noMail.handler(answer(noMail)),
  saveContact: door.saveContact.handler(answer(saveContact)),
  removeContact: door.removeContact.handler(answer(removeContact)),
})
