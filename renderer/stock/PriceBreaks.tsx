import type { Cents } from '../../core/units/money.ts'
import { Button } from '../design/Button.tsx'
import { MoneyField } from '../design/MoneyField.tsx'
import { NumberField } from '../design/NumberField.tsx'

/** A lower price while it is typed. */
export interface TypedBreak {
  /** Tells the lines apart while their quantities are typed. */
  readonly key: number
  readonly from: number | null
  readonly price: Cents | null
}

/** The breaks as they are saved; null while one of them is half written. */
export function wholeBreaks(typed: readonly TypedBreak[]): { from: number; price: Cents }[] | null {
  const whole = typed.flatMap(({ from, price }) =>
    from === null || from < 1 || price === null ? [] : [{ from, price }],
  )
  return whole.length === typed.length ? whole.toSorted((a, b) => a.from - b.from) : null
}

export function typedBreaks(breaks: readonly { readonly from: number; readonly price: Cents }[]): TypedBreak[] {
  return breaks.map((each, index) => ({ ...each, key: index + 1 }))
}

const nextKey = (breaks: readonly TypedBreak[]): number =>
  breaks.reduce((most, each) => Math.max(most, each.key), 0) + 1

interface PriceBreaksProps {
  readonly breaks: readonly TypedBreak[]
  readonly onChange: (breaks: readonly TypedBreak[]) => void
}

/** Lower prices from so many pieces on, for every piece of the order. */
export function PriceBreaks({ breaks, onChange }: PriceBreaksProps) {
  const set = (at: number, change: Partial<TypedBreak>): void =>
    onChange(breaks.map((each, index) => (index === at ? { ...each, ...change } : each)))
  return (
    <fieldset className="ordered-choices">
      <legend className="field-label">Lower prices for larger orders</legend>
      {breaks.length === 0 && <p className="second small">None: every piece costs the same.</p>}
      {breaks.map((each, index) => (
        <div key={each.key} className="stock-form-row">
          <NumberField
            label={`From pieces, ${index + 1}`}
            value={each.from}
            onChange={(from) => set(index, { from })}
            chars={7}
            least={1}
          />
          <MoneyField
            label={`Price a piece, ${index + 1}`}
            value={each.price}
            onChange={(price) => set(index, { price })}
            chars={9}
          />
          <Button
            kind="quiet"
            onPress={() => onChange(breaks.filter((_, at) => at !== index))}
            aria-label={`Take out lower price ${index + 1}`}
          >
            Take out
          </Button>
        </div>
      ))}
      <div>
        <Button kind="quiet" onPress={() => onChange([...breaks, { key: nextKey(breaks), from: null, price: null }])}>
          Add a lower price
        </Button>
      </div>
    </fieldset>
  )
}
