import { nextBreak, packHint, packsInWords, priceForQuantity } from '../../core/orders/order-quantity.ts'
import type { OrderInFull, SoldPart } from '../../core/orders/order-shapes.ts'
import { cents } from '../../core/units/money.ts'
import { Button } from '../design/Button.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { MoneyField } from '../design/MoneyField.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { MoneyText } from '../design/Words.tsx'
import { type DraftLine, lineOfPart } from './draft-line.ts'

interface DraftLinesProps {
  readonly lines: readonly DraftLine[]
  readonly order: OrderInFull
  readonly sold: readonly SoldPart[]
  readonly onChange: (lines: readonly DraftLine[]) => void
}

/** The lines of a draft, each with its quantity, its price and what the supplier's terms say about both. */
export function DraftLines({ lines, order, sold, onChange }: DraftLinesProps) {
  return lines.map((line) => {
    const saved = order.lines.find((each) => each.part.partId === line.partId)
    const terms = sold.find((each) => each.part.partId === line.partId) ?? null
    return (
      <DraftLineRow
        key={line.partId}
        line={line}
        name={saved?.part.name ?? terms?.part.name ?? ''}
        number={saved?.part.number ?? terms?.part.number ?? ''}
        reason={saved?.reason ?? ''}
        terms={terms}
        onChange={(next) => onChange(lines.map((each) => (each === line ? next : each)))}
        onTakeOut={() => onChange(lines.filter((each) => each !== line))}
      />
    )
  })
}

interface DraftLineRowProps {
  readonly line: DraftLine
  readonly name: string
  readonly number: string
  readonly reason: string
  readonly terms: SoldPart | null
  readonly onChange: (line: DraftLine) => void
  readonly onTakeOut: () => void
}

function DraftLineRow({ line, name, number, reason, terms, onChange, onTakeOut }: DraftLineRowProps) {
  const quantity = line.quantity ?? 0
  const listed = terms ? priceForQuantity(terms, quantity) : cents(0)
  const price = line.price ?? listed
  return (
    <fieldset className="order-fields order-draft-line">
      <legend className="bold">
        {name} <span className="small">{number}</span>
      </legend>
      {reason !== '' && <div className="second small">{reason}</div>}
      <div className="order-fields-row">
        <NumberField
          label="Pieces"
          note={
            terms && packHint(terms, quantity) === null && terms.packSize > 1
              ? packsInWords(quantity, terms.packSize)
              : undefined
          }
          value={line.quantity}
          onChange={(pieces) => onChange({ ...line, quantity: pieces })}
          chars={7}
          least={0}
        />
        <MoneyField
          label="Price a piece"
          note={line.price !== null && line.price !== listed ? 'agreed for this order' : undefined}
          value={price}
          onChange={(typed) => onChange({ ...line, price: typed === null || typed === listed ? null : typed })}
          chars={9}
        />
        <div className="order-amount">
          <span className="field-label">Comes to</span>
          <b className="figures">
            <MoneyText cents={cents(quantity * price)} />
          </b>
        </div>
        <div className="order-take-out">
          <Button kind="quiet" onPress={onTakeOut} aria-label={`Take out ${name}`}>
            Take out
          </Button>
        </div>
      </div>
      {terms && <Hints line={line} terms={terms} onChange={onChange} />}
      {terms === null && <p className="small bold">The supplier does not sell it any more by our books.</p>}
    </fieldset>
  )
}

/** Packs and the next price break, each with the quantity that answers it. */
function Hints({
  line,
  terms,
  onChange,
}: { readonly line: DraftLine; readonly terms: SoldPart } & Pick<DraftLineRowProps, 'onChange'>) {
  const quantity = line.quantity ?? 0
  const packs = packHint(terms, quantity)
  const next = line.price === null ? nextBreak(terms, quantity) : null
  const take = (pieces: number) => (
    <Button key={pieces} kind="quiet" onPress={() => onChange({ ...line, quantity: pieces })}>
      Order {pieces}
    </Button>
  )
  return (
    <>
      {packs && (
        <div className="order-hint">
          <span className="bold small">{packs.words}</span>
          {packs.instead.map(take)}
        </div>
      )}
      {next && quantity > 0 && (
        <div className="order-hint">
          <span className="small">
            From {next.from} pieces on <MoneyText cents={next.price} /> a piece: {next.more} more{' '}
            {next.costs > 0 ? 'cost ' : next.costs < 0 ? 'save ' : 'cost nothing'}
            {next.costs !== 0 && <MoneyText cents={cents(Math.abs(next.costs))} />}
            {next.costs > 0 && ' more'}.
          </span>
          {take(next.from)}
        </div>
      )}
    </>
  )
}

interface AddPartProps {
  readonly sold: readonly SoldPart[]
  readonly lines: readonly DraftLine[]
  readonly supplier: string
  readonly onAdd: (line: DraftLine) => void
}

/** A part that the supplier sells and that is not on the draft yet. */
export function AddPart({ sold, lines, supplier, onAdd }: AddPartProps) {
  const left = sold.filter((each) => !lines.some((line) => line.partId === each.part.partId))
  if (sold.length === 0)
    return (
      <p className="second">By our books {supplier} sells nothing yet. Write down its terms at a part, under Stock.</p>
    )
  if (left.length === 0) return null
  return (
    <ChoiceField
      label="Add a part"
      choices={left.map((each) => ({ id: String(each.part.partId), words: `${each.part.name} ${each.part.number}` }))}
      value={null}
      onChange={(id) => {
        const part = left.find((each) => String(each.part.partId) === id)
        if (part) onAdd(lineOfPart(part))
      }}
      unchosen="Choose a part"
      chars={34}
    />
  )
}
