import { ok, type Result, refused } from '../result.ts'
import { DEFAULT_SETTINGS, type OfficeSettings, officeSettingsSchema, type SettingName } from './office-settings.ts'
import { settingText } from './setting-text.ts'
import { wordsOfSetting } from './setting-words.ts'

/**
 * Judges one changed setting against its own bounds and against those it goes with. Returns the changed settings as they are written.
 * SETTING_NOT_LIKE_THIS with the reason otherwise.
 */
export function judgeSetting(
  present: OfficeSettings,
  name: SettingName,
  value: unknown,
): Result<Partial<OfficeSettings>> {
  const parsed = officeSettingsSchema.safeParse({ ...present, [name]: value })
  if (!parsed.success) return notLikeThis(present, name, reasonOf(name, parsed.error.issues[0]))
  const whole = parsed.data
  if (whole.smallHouseholdPeople >= whole.largeHouseholdPeople)
    return notLikeThis(present, name, 'a small household has fewer people than a large one.')
  if (whole.dayStartsAt >= whole.dayEndsAt) return notLikeThis(present, name, 'the day ends before it begins.')
  if (whole.secondLetterAfterDays >= whole.finalLetterAfterDays)
    return notLikeThis(present, name, 'the final letter goes out after the second one.')
  if (
    whole.overdueRejectionPercent > whole.replaceRejectionPercent ||
    whole.replaceRejectionPercent > whole.healthyRejectionPercent
  )
    return notLikeThis(present, name, 'a membrane is healthy above where it is replaced, and that above overdue.')
  return ok({ [name]: whole[name] })
}

function notLikeThis(present: OfficeSettings, name: SettingName, why: string): Result<never> {
  const usual = settingText(name, DEFAULT_SETTINGS[name], present)
  return refused('SETTING_NOT_LIKE_THIS', { setting: wordsOfSetting(name).label, why, usual })
}

interface Issue {
  readonly code: string
  readonly minimum?: unknown
  readonly maximum?: unknown
}

function reasonOf(name: SettingName, issue: Issue | undefined): string {
  const isRate = wordsOfSetting(name).typed.kind === 'rate'
  const isMoney = wordsOfSetting(name).typed.kind === 'money'
  const shown = (bound: unknown): string =>
    isRate ? `${Number(bound) / 1000} %` : isMoney ? String(Number(bound) / 100) : String(bound)
  if (issue?.code === 'too_small') return `this must be ${shown(issue.minimum)} or more.`
  if (issue?.code === 'too_big') return `this must be ${shown(issue.maximum)} or less.`
  return 'this is not understood here.'
}
