import { implement } from '@orpc/server'
import { answer, type Desk } from '../answering.ts'
import { DEFAULT_INTERVAL_RULES, type IntervalRule } from '../installations/interval-rules.ts'
import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import { ok, type Result, refused } from '../result.ts'
import { listIntervalRules, writeIntervalRule } from './interval-rules-store.ts'
import { judgeSetting } from './judge-setting.ts'
import { findOfficeVersion, updateOfficeAddress } from './office-address-store.ts'
import { type OfficeAddress, officeAddressSchema } from './office-contract.ts'
import { DEFAULT_SETTINGS, type SettingName } from './office-settings.ts'
import { findOffice } from './office-store.ts'
import { settingText } from './setting-text.ts'
import { wordsOfSetting } from './setting-words.ts'
import { type SettingsSheet, settingsContract } from './settings-contract.ts'
import { forgetSetting, readSettings, writeSettings } from './settings-store.ts'
import { addDayOff, removeDayOff, saveTechnician, technicianLeaves } from './technicians-answers.ts'
import { listTechniciansInFull } from './technicians-store.ts'
import { MOVES_DUE_DATES, MOVES_PLANS } from './what-settings-move.ts'

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

/** Changes one setting, or puts it back to the usual value. What due dates rest on recomputes them in the same transaction. */
function change(desk: Desk, { name, from, to }: { name: SettingName; from?: unknown; to?: unknown }): Promise<Done> {
  return desk.write(async (books) => {
    const present = await readSettings(books.read, books.officeId)
    const { label } = wordsOfSetting(name)
    if (present[name] !== from)
      return refused('SETTING_CHANGED', { setting: label, now: settingText(name, present[name], present) })
    const isUsual = to === null || to === DEFAULT_SETTINGS[name]
    const judged = judgeSetting(present, name, isUsual ? DEFAULT_SETTINGS[name] : to)
    if (!judged.ok) return judged
    if (isUsual) await forgetSetting(books.tx, books.officeId, name)
    else await writeSettings(books.tx, books.officeId, judged.value)
    await books.record({
      subjectKind: 'office',
      subjectId: books.officeId,
      verb: 'changed',
      sentence: isUsual ? `${label} was put back to the usual value` : `${label} was changed`,
      details: `${settingText(name, present[name], present)} to ${settingText(name, judged.value[name], present)}`,
    })
    if (!MOVES_DUE_DATES.has(name) && !MOVES_PLANS.has(name)) return ok({})
    const kind = MOVES_DUE_DATES.has(name) ? 'due-rules-changed' : 'plan-figures-changed'
    const told = await books.happened({ kind })
    return told.ok ? ok({}) : told
  })
}

function changeInterval(
  desk: Desk,
  { stageKind, rule }: { stageKind: IntervalRule['stageKind']; rule: IntervalRule | null },
): Promise<Done> {
  return desk.write(async (books) => {
    const usual = DEFAULT_INTERVAL_RULES.find((each) => each.stageKind === stageKind)
    const wanted = rule ?? usual
    if (!wanted || wanted.stageKind !== stageKind) return refused('RECORD_GONE', { what: 'This kind of stage' })
    const name = STAGE_KIND_WORDS[stageKind].name
    if (wanted.monthsLeast < 1)
      return refused('SETTING_NOT_LIKE_THIS', {
        setting: name,
        why: 'this must be 1 month or more.',
        usual: usual?.monthsLeast ?? 12,
      })
    await writeIntervalRule(books.tx, books.officeId, wanted)
    await books.record({
      subjectKind: 'office',
      subjectId: books.officeId,
      verb: 'changed',
      sentence: `The months of ${name} were changed`,
      details: `${wanted.monthsMost} down to ${wanted.monthsLeast}, ${wanted.basis}`,
    })
    const told = await books.happened({ kind: 'due-rules-changed' })
    return told.ok ? ok({}) : told
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
  change: door.change.handler(answer(change)),
  changeAddress: door.changeAddress.handler(answer(changeAddress)),
  changeInterval: door.changeInterval.handler(answer(changeInterval)),
  saveTechnician: door.saveTechnician.handler(answer(saveTechnician)),
  technicianLeaves: door.technicianLeaves.handler(answer(technicianLeaves)),
  addDayOff: door.addDayOff.handler(answer(addDayOff)),
  removeDayOff: door.removeDayOff.handler(answer(removeDayOff)),
})
