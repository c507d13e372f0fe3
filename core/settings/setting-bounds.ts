import { z } from 'zod'
import { type OfficeSettings, officeSettingsSchema, type SettingName } from './office-settings.ts'
import { settingText } from './setting-text.ts'
import { wordsOfSetting } from './setting-words.ts'

/** The least and the most a setting may be, in the unit it is kept in; null without that bound, and for what is no figure. */
export interface SettingBounds {
  readonly least: number | null
  readonly most: number | null
}

export function boundsOfSetting(name: SettingName): SettingBounds {
  const kept = officeSettingsSchema.shape[name].unwrap()
  if (!(kept instanceof z.ZodNumber)) return { least: null, most: null }
  return { least: bound(kept.minValue), most: bound(kept.maxValue) }
}

/** What every whole number is bounded by anyway is no bound of the trade. */
function bound(value: number | null): number | null {
  return value === null || !Number.isFinite(value) || Math.abs(value) >= Number.MAX_SAFE_INTEGER ? null : value
}

/** "1 to 50 people", "$0.00 to $100,000.00"; empty for what is chosen or written, and for a time of day. */
export function boundsText(name: SettingName, office: OfficeSettings): string {
  const { least, most } = boundsOfSetting(name)
  const { typed } = wordsOfSetting(name)
  if (least === null || most === null || typed.kind === 'time') return ''
  const to = settingText(name, most, office)
  const unit = typed.kind === 'money' ? '' : to.slice(to.lastIndexOf(' '))
  return `${settingText(name, least, office).replace(unit, '')} to ${to}`
}
