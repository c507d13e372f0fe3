import { hardnessSchema, hardnessText, millilitresSchema, volumeText } from '../units/measures.ts'
import { centsSchema, formatCents, formatTaxRate, taxRateSchema } from '../units/money.ts'
import { formatTimeOfDay, timeOfDaySchema } from '../units/time-of-day.ts'
import type { OfficeSettings, SettingName } from './office-settings.ts'
import { wordsOfSetting } from './setting-words.ts'

const WEEKDAYS = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'] as const

/** "Mon Tue Wed Thu Fri" from "12345"; "none" when there is none. */
export function workdaysText(workdays: string): string {
  const names = [...workdays].map((digit) => WEEKDAYS[Number(digit) - 1] ?? '')
  return names.length === 0 ? 'none' : names.join(' ')
}

/** A value of a setting as the office reads it: "$64.00", "5.6 %", "8:00 am", "12 months". */
export function settingText(name: SettingName, value: unknown, office: OfficeSettings): string {
  const { typed } = wordsOfSetting(name)
  switch (typed.kind) {
    case 'choice':
      return typed.choices.find((choice) => choice.id === value)?.words ?? String(value)
    case 'number':
      return `${Number(value).toLocaleString(office.locale)} ${typed.unit}`
    case 'money':
      return formatCents(centsSchema.parse(value), office.currency, office.locale)
    case 'rate':
      return formatTaxRate(taxRateSchema.parse(value), office.locale)
    case 'time':
      return formatTimeOfDay(timeOfDaySchema.parse(value), office.locale)
    case 'volume':
      return volumeText(millilitresSchema.parse(value), office.measures)
    case 'hardness':
      return hardnessText(hardnessSchema.parse(value), office.measures)
    case 'workdays':
      return workdaysText(String(value))
    case 'text':
      return value === '' ? 'nothing' : String(value)
  }
}
