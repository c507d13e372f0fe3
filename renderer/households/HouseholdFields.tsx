import { useState } from 'react'
import type { CustomerFields, SiteFields } from '../../core/customers/customers-contract.ts'
import { monthsAwayText, readMonthsAway } from '../../core/customers/months-away.ts'
import {
  gallonsToMillilitres,
  grainsToHardness,
  hardness,
  hardnessToGrains,
  millilitres,
  millilitresToGallons,
  tds,
} from '../../core/units/measures.ts'
import { CheckField } from '../design/CheckField.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { TextField } from '../design/Field.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { useOffice } from '../design/office-manner.ts'
import { SheetPart } from '../design/Sheet.tsx'
import { namesFrom } from './household-draft.ts'
import { MonthsField } from './MonthsField.tsx'

const KINDS = [
  { id: 'person', words: 'A person or family' },
  { id: 'business', words: 'A business' },
] as const
const SOURCES = [
  { id: 'mains', words: 'the mains' },
  { id: 'well', words: 'their own well' },
  { id: 'unknown', words: 'not known' },
] as const

type Problems = Readonly<Record<string, string>>

interface CustomerPartProps {
  readonly customer: CustomerFields
  readonly isNew: boolean
  readonly problems: Problems
  readonly onChange: (change: Partial<CustomerFields>) => void
}

/** Who pays, and how to reach them. */
export function CustomerPart({ customer, isNew, problems, onChange }: CustomerPartProps) {
  const field = textFields(customer, problems, (name, value) => onChange({ ...customer, [name]: value }))
  const [typed, setTyped] = useState(customer.letterName)
  const name = (next: string, kind: CustomerFields['kind']): void => {
    setTyped(next)
    onChange({ kind, ...namesFrom(next, kind) })
  }
  return (
    <>
      <SheetPart title="Who">
        <div className="fields">
          <ChoiceField
            label="Kind"
            choices={KINDS}
            value={customer.kind}
            onChange={(kind) => (isNew ? name(typed, kind) : onChange({ kind }))}
          />
          {isNew && (
            <TextField
              label="Name"
              note="As one says it: Corinne Abernathy-Vance."
              value={typed}
              onChange={(next) => name(next, customer.kind)}
              problem={problems.sortName}
              isRequired
            />
          )}
          <TextField {...field('sortName')} label="In the lists" />
          <TextField {...field('letterName')} label="On the envelope" />
          <TextField {...field('salutation')} label="A letter begins" />
        </div>
      </SheetPart>
      <SheetPart title="Reached by">
        <div className="fields">
          <TextField {...field('phone')} label="Telephone" type="tel" />
          <TextField {...field('phoneNote')} label="When to call" />
          <TextField {...field('email')} label="E-mail" type="email" />
        </div>
        <div className="household-checks">
          <CheckField value={customer.noMail} onChange={(noMail) => onChange({ noMail })}>
            They asked for no mail
          </CheckField>
          <CheckField value={customer.taxExempt} onChange={(taxExempt) => onChange({ taxExempt })}>
            They pay no tax
          </CheckField>
          <CheckField value={customer.mailElsewhere} onChange={(mailElsewhere) => onChange({ mailElsewhere })}>
            Letters and invoices go to another address
          </CheckField>
        </div>
        {customer.mailElsewhere && (
          <div className="fields">
            <TextField {...field('mailLine1')} label="Mail: street" />
            <TextField {...field('mailLine2')} label="Mail: second line" />
            <TextField {...field('mailTown')} label="Mail: town" />
            <TextField {...field('mailRegion')} label="Mail: state" />
            <TextField {...field('mailPostalCode')} label="Mail: postal code" />
            <TextField {...field('mailCountry')} label="Mail: country" />
          </div>
        )}
        <div className="fields">
          <NumberField
            label="Days to pay"
            note="Blank: as for everyone."
            value={customer.paymentTermsDays}
            onChange={(paymentTermsDays) => onChange({ paymentTermsDays })}
            least={0}
            most={365}
          />
          <TextField {...field('note')} label="Note" lines={2} />
        </div>
      </SheetPart>
    </>
  )
}

interface SitePartProps {
  readonly site: SiteFields
  readonly problems: Problems
  readonly onChange: (change: Partial<SiteFields>) => void
}

/** Where the water is, and what it is like. */
export function SitePart({ site, problems, onChange }: SitePartProps) {
  const us = useOffice().measures === 'us'
  const field = textFields(site, problems, (name, value) => onChange({ ...site, [name]: value }))
  return (
    <>
      <SheetPart title="Where">
        <div className="fields">
          <TextField {...field('line1')} label="Street" isRequired />
          <TextField {...field('line2')} label="Second line" />
          <TextField {...field('town')} label="Town" isRequired />
          <TextField {...field('region')} label="State" chars={10} />
          <TextField {...field('postalCode')} label="Postal code" chars={10} />
          <TextField {...field('country')} label="Country" chars={10} />
        </div>
        <TextField {...field('accessNote')} label="How to get in" lines={2} />
      </SheetPart>
      <SheetPart title="Water and people">
        <div className="fields">
          <NumberField
            label="People in the house"
            note="Filters go by it."
            value={site.people}
            onChange={(people) => onChange({ people })}
            least={1}
            most={500}
            problem={problems.people}
          />
          <NumberField
            label="Water drunk a day"
            note="Blank: reckoned from the people."
            unit={us ? 'gal' : 'L'}
            digits={1}
            value={
              site.drunkPerDay === null ? null : us ? millilitresToGallons(site.drunkPerDay) : site.drunkPerDay / 1000
            }
            onChange={(value) =>
              onChange({
                drunkPerDay:
                  value === null ? null : us ? gallonsToMillilitres(value) : millilitres(Math.round(value * 1000)),
              })
            }
            problem={problems.drunkPerDay}
          />
          <NumberField
            label="Hardness of the feed"
            note="The membrane goes by it."
            unit={us ? 'gpg' : 'mg/L'}
            digits={us ? 1 : 0}
            least={0}
            value={site.hardness === null ? null : us ? hardnessToGrains(site.hardness) : site.hardness}
            onChange={(value) =>
              onChange({ hardness: value === null ? null : us ? grainsToHardness(value) : hardness(value) })
            }
            problem={problems.hardness}
          />
          <NumberField
            label="TDS of the feed"
            unit="mg/L"
            least={0}
            value={site.feedTds}
            onChange={(value) => onChange({ feedTds: value === null ? null : tds(value) })}
            problem={problems.feedTds}
          />
          <ChoiceField
            label="Water from"
            choices={SOURCES}
            value={site.waterSource}
            onChange={(waterSource) => onChange({ waterSource })}
          />
        </div>
        <MonthsField
          legend="Nobody is there in"
          note="Filters do not age in these months."
          months={readMonthsAway(site.monthsAway)}
          onChange={(months) => onChange({ monthsAway: monthsAwayText(months) })}
          problem={problems.monthsAway}
        />
      </SheetPart>
    </>
  )
}

type TextNames<Fields> = {
  [Name in keyof Fields]: Fields[Name] extends string ? (string extends Fields[Name] ? Name : never) : never
}[keyof Fields] &
  string

/** What a text field needs for one of the texts of a record. */
function textFields<Fields extends object>(
  fields: Fields,
  problems: Problems,
  put: (name: TextNames<Fields>, value: string) => void,
) {
  return (name: TextNames<Fields>) => ({
    value: String(fields[name]),
    problem: problems[name],
    onChange: (value: string) => put(name, value),
  })
}
