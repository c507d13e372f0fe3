import { implement } from '@orpc/server'
import { answer, type Desk } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { changeInterval, changeSetting } from './change-figures-answers.ts'
import { listIntervalRules } from './interval-rules-store.ts'
import { findOfficeVersion, updateOfficeAddress } from './office-address-store.ts'
import { type OfficeAddress, officeAddressSchema } from './office-contract.ts'
import { findOffice } from './office-store.ts'
import { type SettingsSheet, settingsContract } from './settings-contract.ts'
import { readSettings } from './settings-store.ts'
import { addDayOff, removeDayOff, saveTechnician, technicianLeaves } from './technicians-answers.ts'
import { listTechniciansInFull } from './technicians-store.ts'

type Done = Result<Record<string, never>>

async function sheet(desk: Desk): Promise<Result<SettingsSheet>> {
  const office = await findOffice(desk.read, desk.officeId)
  if (!office) return refused('RECORD_GONE', { what: 'The office' })
  return ok({
    values: await readSettings(desk.read, desk.officeId),
    address: officeAddressSchema.parse(office),
    addressVersion: await findOfficeVersion(desk.read, desk.officeId),
    intervalRules: await listIntervalRules(desk.read, desk.officeId),
    technicians: await listTechniciansInFull(desk.read, desk.officeId, desk.today),
  })
}

function changeAddress(desk: Desk, { address, version }: { address: OfficeAddress; version: number }): Promise<Done> {
  return desk.write(async (books) => {
    if (!(await updateOfficeAddress(books.tx, books.officeId, version, address))) {
      const now = await findOffice(books.read, books.officeId)
      return refused('RECORD_CHANGED', {
        what: 'The address',
        changes: [now?.name, now?.line1, now?.town].filter(Boolean).join(', '),
      })
    }
    await books.record({
      subjectKind: 'office',
      subjectId: books.officeId,
      verb: 'changed',
      sentence: 'The address of the office was changed',
    })
    return ok({})
  })
}

const door = implement(settingsContract).$context<Desk>()
export const settingsAnswers = door.router({
  sheet: door.sheet.handler(answer((desk) => sheet(desk))),
  change: door.change.handler(answer(changeSetting)),
  changeAddress: door.changeAddress.handler(answer(changeAddress)),
  changeInterval: door.changeInterval.handler(answer(changeInterval)),
  saveTechnician: door.saveTechnician.handler(answer(saveTechnician)),
  technicianLeaves: door.technicianLeaves.handler(answer(technicianLeaves)),
  addDayOff: door.addDayOff.handler(answer(addDayOff)),
  removeDayOff: door.removeDayOff.handler(answer(removeDayOff)),
})
