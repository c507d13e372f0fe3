import type { TaxCategory } from '../../core/invoices/invoice-lines.ts'
import { Button } from '../design/Button.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { TextField } from '../design/Field.tsx'
import { MoneyField } from '../design/MoneyField.tsx'
import { NumberField } from '../design/NumberField.tsx'
import type { TypedLine } from './draft-form.ts'
import { PriceField } from './PriceField.tsx'

const TAX_CHOICES: readonly { id: TaxCategory; words: string }[] = [
  { id: 'standard', words: 'Taxed' },
  { id: 'zero', words: 'Free of tax' },
  { id: 'exempt', words: 'Exempt' },
  { id: 'outside', words: 'Out of scope' },
]

interface DraftLineFieldsProps {
  readonly place: number
  readonly line: TypedLine
  readonly onChange: (line: TypedLine) => void
  readonly onTakeOut: () => void
}

/** One line of a draft. */
export function DraftLineFields({ place, line, onChange, onTakeOut }: DraftLineFieldsProps) {
  const change = (part: Partial<TypedLine>): void => onChange({ ...line, ...part })
  return (
    <fieldset className="draft-line">
      <legend className="for-ears">Line {place}</legend>
      <div className="draft-line-what">
        <TextField
          label={`Line ${place}`}
          value={line.description}
          onChange={(description) => change({ description })}
        />
        <Button kind="quiet" onPress={onTakeOut} aria-label={`Take out line ${place}`}>
          Take out
        </Button>
      </div>
      <div className="draft-line-figures">
        <NumberField
          label="Quantity"
          digits={3}
          chars={5}
          value={line.pieces}
          onChange={(pieces) => change({ pieces })}
        />
        <PriceField label="Price" value={line.price} onChange={(price) => change({ price })} />
        <MoneyField label="Less" chars={6} value={line.allowance} onChange={(allowance) => change({ allowance })} />
        <ChoiceField
          label="Tax"
          chars={10}
          choices={TAX_CHOICES}
          value={line.category}
          onChange={(category) => change({ category })}
        />
        {line.category === 'standard' && (
          <NumberField
            label="Rate"
            digits={3}
            chars={5}
            unit="%"
            value={line.percent}
            onChange={(percent) => change({ percent })}
          />
        )}
      </div>
    </fieldset>
  )
}
