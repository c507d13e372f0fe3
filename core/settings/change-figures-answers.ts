import type { Desk } from '../answering.ts'
import { DEFAULT_INTERVAL_RULES } from '../installations/interval-rules.ts'
import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import { ok, type Result, refused } from '../result.ts'
import { writeIntervalRule } from './interval-rules-store.ts'
import { judgeSetting } from './judge-setting.ts'
import { DEFAULT_SETTINGS } from './office-settings.ts'
import { settingText } from './setting-text.ts'
import { wordsOfSetting } from './setting-words.ts'
import type { IntervalChange, SettingChange } from './settings-contract.ts'
import { forgetSetting, hasManyUnits, readSettings, writeSettings } from './settings-store.ts'
import { MOVES_DUE_DATES, MOVES_PLANS } from './what-settings-move.ts'

type Done = Result<Record<string, never>>

/** Units from which on reckoning all due dates would hold up whoever asks for something else. */
const MANY_UNITS = 2_000

/** Changes one setting. In a large office, where all due dates follow it, this is done in a thread of its own: the others are answered meanwhile. */
export async function changeSetting(desk: Desk, input: SettingChange): Promise<Done> {
  if (!MOVES_DUE_DATES.has(input.name)) return changeSettingHere(desk, input)
  return (await apartWhereMany(desk, 'change-setting', input)) ?? changeSettingHere(desk, input)
}

/** Changes the months of a kind of stage, in the same way. */
export async function changeInterval(desk: Desk, input: IntervalChange): Promise<Done> {
  return (await apartWhereMany(desk, 'change-months', input)) ?? changeIntervalHere(desk, input)
}

async function apartWhereMany(desk: Desk, work: string, input: unknown): Promise<Done | null> {
  if (desk.apart === null || !(await hasManyUnits(desk.read, desk.officeId, MANY_UNITS))) return null
  const done = await desk.apart(work, input)
  return done.ok ? ok({}) : done
}

/** Changes one setting, or puts it back to the usual value. What due dates rest on recomputes them in the same transaction. */
export function changeSettingHere(desk: Desk, { name, from, to }: SettingChange): Promise<Done> {
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

export function changeIntervalHere(desk: Desk, { stageKind, rule }: IntervalChange): Promise<Done> {
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
