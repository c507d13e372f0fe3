import type { OfficeSettings } from '../../core/settings/office-settings.ts'
import { workdaysText } from '../../core/settings/setting-text.ts'
import type { SettingWords } from '../../core/settings/setting-words.ts'
import {
  gallonsToMillilitres,
  grainsToHardness,
  hardnessSchema,
  hardnessToGrains,
  millilitresSchema,
  millilitresToGallons,
} from '../../core/units/measures.ts'
import { centsSchema } from '../../core/units/money.ts'
import { timeOfDaySchema } from '../../core/units/time-of-day.ts'
import { CheckField } from '../design/CheckField.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { TextField } from '../design/Field.tsx'
import { MoneyField } from '../design/MoneyField.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { TimeField } from '../design/TimeField.tsx'

/** A setting's value as it is typed; null while nothing is understood. */
export type TypedSetting = string | number | null

interface SettingFieldProps {
  readonly words: SettingWords
  readonly value: TypedSetting
  readonly office: OfficeSettings
  readonly onChange: (value: TypedSetting) => void
}

/** The field that fits a setting: a choice, a figure with its unit, an amount, a time of day, days of the week, words. */
export function SettingField({ words, value, office, onChange }: SettingFieldProps) {
  const { label, typed } = words
  const isUs = office.measures === 'us'
  const number = value === null ? null : Number(value)
  switch (typed.kind) {
    case 'choice':
      return (
        <ChoiceField label={label} choices={[...typed.choices]} value={String(value)} onChange={onChange} chars={34} />
      )
    case 'number':
      return (
        <NumberField
          label={label}
          value={number}
          onChange={onChange}
          unit={typed.unit}
          digits={typed.digits ?? 0}
          chars={7}
        />
      )
    case 'money':
      return (
        <MoneyField
          label={label}
          value={centsSchema.nullable().catch(null).parse(number)}
          onChange={onChange}
          chars={9}
        />
      )
    case 'rate':
      return (
        <NumberField
          label={label}
          value={number === null ? null : number / 1000}
          onChange={(percent) => onChange(percent === null ? null : Math.round(percent * 1000))}
          unit="%"
          digits={3}
          chars={7}
        />
      )
    case 'time':
      return (
        <TimeField label={label} value={timeOfDaySchema.nullable().catch(null).parse(number)} onChange={onChange} />
      )
    case 'volume': {
      const volume = millilitresSchema.nullable().catch(null).parse(number)
      return (
        <NumberField
          label={label}
          value={volume === null ? null : isUs ? millilitresToGallons(volume) : volume / 1000}
          onChange={(typedIn) =>
            onChange(typedIn === null ? null : isUs ? gallonsToMillilitres(typedIn) : Math.round(typedIn * 1000))
          }
          unit={isUs ? 'gal' : 'L'}
          digits={2}
          least={0}
          chars={7}
        />
      )
    }
    case 'hardness': {
      const hardness = hardnessSchema.nullable().catch(null).parse(number)
      return (
        <NumberField
          label={label}
          value={hardness === null ? null : isUs ? hardnessToGrains(hardness) : hardness}
          onChange={(typedIn) => onChange(typedIn === null ? null : isUs ? grainsToHardness(typedIn) : typedIn)}
          unit={isUs ? 'gpg' : 'mg/L'}
          digits={1}
          least={0}
          chars={7}
        />
      )
    }
    case 'workdays':
      return <WorkdaysField label={label} value={String(value ?? '')} onChange={onChange} />
    case 'text':
      return (
        <TextField
          label={label}
          value={String(value ?? '')}
          onChange={onChange}
          {...(typed.lines ? { lines: typed.lines } : { chars: 26 })}
        />
      )
  }
}

interface WorkdaysFieldProps {
  readonly label: string
  readonly value: string
  readonly onChange: (value: string) => void
}

/** Days of the week, Monday first. Kept as their numbers: "12345". */
export function WorkdaysField({ label, value, onChange }: WorkdaysFieldProps) {
  const toggled = (day: string, on: boolean): string =>
    [...new Set([...value.replace(day, ''), ...(on ? [day] : [])])].sort().join('')
  return (
    <fieldset className="workdays">
      <legend className="field-label">{label}</legend>
      {[...'1234567'].map((day) => (
        <CheckField key={day} value={value.includes(day)} onChange={(on) => onChange(toggled(day, on))}>
          {workdaysText(day)}
        </CheckField>
      ))}
    </fieldset>
  )
}
