import { implement } from '@orpc/server'
import { answer, type Desk } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { type OfficeAddress, type OfficeState, officeContract } from './office-contract.ts'
import { findOffice, hasHouseholds, insertOffice } from './office-store.ts'
import { readSettings } from './settings-store.ts'

const NO_ADDRESS: OfficeAddress = {
  name: '',
  line1: '',
  line2: '',
  town: '',
  region: '',
  postalCode: '',
  country: '',
  phone: '',
  email: '',
}

function addressOf({
  name,
  line1,
  line2,
  town,
  region,
  postalCode,
  country,
  phone,
  email,
}: OfficeAddress): OfficeAddress {
  return { name, line1, line2, town, region, postalCode, country, phone, email }
}

async function state(desk: Desk): Promise<Result<OfficeState>> {
  const office = await findOffice(desk.read, desk.officeId)
  return ok({
    founded: office !== null,
    isDemo: office?.isDemo ?? false,
    hasHouseholds: await hasHouseholds(desk.read, desk.officeId),
    officeId: desk.officeId,
    address: office ? addressOf(office) : NO_ADDRESS,
    settings: await readSettings(desk.read, desk.officeId),
    today: desk.today,
  })
}

function found(desk: Desk, address: OfficeAddress): Promise<Result<{ officeId: Desk['officeId'] }>> {
  return desk.write(async (books) => {
    if (await findOffice(books.read, books.officeId)) return refused('OFFICE_EXISTS')
    await insertOffice(books.tx, {
      ...address,
      id: books.officeId,
      isDemo: false,
      latitude: null,
      longitude: null,
      foundedAt: books.now,
    })
    await books.record({
      subjectKind: 'office',
      subjectId: books.officeId,
      verb: 'founded',
      sentence: `${address.name} was founded`,
    })
    return ok({ officeId: books.officeId })
  })
}

const door = implement(officeContract).$context<Desk>()
export const officeAnswers = door.router({
  state: door.state.handler(answer((desk) => state(desk))),
  found: door.found.handler(answer(found)),
})
