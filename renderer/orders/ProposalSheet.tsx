import { useQuery } from '@tanstack/react-query'
import { packHint } from '../../core/orders/order-quantity.ts'
import type { LettersRecord, ProposalDetail } from '../../core/orders/proposal-shapes.ts'
import { shortDate } from '../../core/units/date-words.ts'
import { Button } from '../design/Button.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet, SheetPart } from '../design/Sheet.tsx'
import { MoneyText } from '../design/Words.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { DemandPicture } from './DemandPicture.tsx'
import type { ShortPart } from './order-columns.tsx'
import { StockPicture } from './StockPicture.tsx'

interface ProposalSheetProps {
  readonly row: ShortPart
  /** Another number of pieces than proposed; null for the proposal again. */
  readonly onQuantity: (quantity: number | null) => void
  readonly onClose: () => void
}

/** A proposal opened to its arithmetic: the sum, how many may be wanted, the weeks ahead, what the office's letters led to. */
export function ProposalSheet({ row, onQuantity, onClose }: ProposalSheetProps) {
  const { locale } = useOffice()
  const opened = useQuery(ask.orders.proposal.queryOptions({ input: { partId: row.part.partId } }))
  const proposal = opened.data?.proposal ?? null
  return (
    <SecondSheet
      title={row.part.name}
      below={`${row.part.number} · ${row.supplier}`}
      onClose={onClose}
      backTo="what runs short"
    >
      <p className="bold order-sentence">{row.sentence}</p>
      <Quantity row={row} onQuantity={onQuantity} />
      {opened.error && <ProblemNote problem={problemOf(opened.error)} onTryAgain={() => void opened.refetch()} />}
      <Sum row={row} />
      {proposal?.wanted && proposal.wanted.possible > 0 && (
        <SheetPart title={`How many may be wanted until ${shortDate(row.covers, locale)}`}>
          <DemandPicture wanted={proposal.wanted} />
        </SheetPart>
      )}
      {proposal && proposal.weeks.length > 0 && (
        <SheetPart title="The stock of the coming weeks">
          <StockPicture proposal={proposal} />
        </SheetPart>
      )}
      {proposal && proposal.prices.length > 1 && <Prices proposal={proposal} />}
      {proposal && proposal.changes.length > 0 && (
        <SheetPart title="What would change it">
          <ul className="order-changes">
            {proposal.changes.map((change) => (
              <li key={change}>{change}</li>
            ))}
          </ul>
        </SheetPart>
      )}
      {opened.data && proposal?.wanted && proposal.wanted.possible > 0 && <Letters record={opened.data.record} />}
    </SecondSheet>
  )
}

function Quantity({ row, onQuantity }: Omit<ProposalSheetProps, 'onClose'>) {
  const hint = packHint(row, row.chosen)
  return (
    <div className="order-quantity">
      <NumberField
        label={`Order of ${row.supplier}`}
        unit="pieces"
        value={row.chosen}
        onChange={onQuantity}
        least={0}
        chars={7}
      />
      <div className="order-quantity-cost">
        <MoneyText cents={row.chosenCost} />
        {row.chosen !== row.order && (
          <Button kind="quiet" onPress={() => onQuantity(null)}>
            Order {row.order} as proposed
          </Button>
        )}
      </div>
      {hint && (
        <p className="second small">
          {hint.words} {hint.instead.length > 0 && `That would be ${hint.instead.join(' or ')}.`}
        </p>
      )}
    </div>
  )
}

function Sum({ row }: { readonly row: ShortPart }) {
  return (
    <SheetPart title={row.order > 0 ? `Why ${row.order}` : 'Why none'}>
      <table className="order-sum">
        <tbody>
          {row.lines.map((line) => (
            <tr key={line.kind}>
              <td className="figure">{line.pieces < 0 ? `−${-line.pieces}` : line.pieces}</td>
              <td>{line.words}</td>
            </tr>
          ))}
          <tr className="bold">
            <td className="figure">{row.order}</td>
            <td>
              to order of {row.supplier}, <MoneyText cents={row.cost} />
            </td>
          </tr>
        </tbody>
      </table>
    </SheetPart>
  )
}

function Prices({ proposal }: { readonly proposal: ProposalDetail }) {
  return (
    <SheetPart title="Which quantity costs least">
      <table className="order-figures">
        <thead>
          <tr>
            <th scope="col">Pieces</th>
            <th scope="col">A piece</th>
            <th scope="col">Paid</th>
            <th scope="col">Keeping</th>
            <th scope="col">Spared later</th>
            <th scope="col">Comes to</th>
          </tr>
        </thead>
        <tbody>
          {proposal.prices.map((choice) => (
            <tr key={choice.quantity} className={choice.chosen ? 'bold' : undefined}>
              <th scope="row">{choice.quantity}</th>
              <td>
                <MoneyText cents={choice.price} bare />
              </td>
              <td>
                <MoneyText cents={choice.paid} bare />
              </td>
              <td>
                <MoneyText cents={choice.kept} bare />
              </td>
              <td>
                <MoneyText cents={choice.spared} bare />
              </td>
              <td>
                <MoneyText cents={choice.cost} bare />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="second small">
        Pieces beyond the {proposal.short} missing are used later: they spare what they would cost then, and cost
        keeping until then.
      </p>
    </SheetPart>
  )
}

function Letters({ record }: { readonly record: LettersRecord }) {
  return (
    <SheetPart title="How your letters turn into visits">
      {record.sentences.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {record.within.some((row) => row.letters > 0) && (
        <table className="order-figures">
          <thead>
            <tr>
              <th scope="col">Within</th>
              <th scope="col">First letters</th>
              <th scope="col">Booked</th>
              <th scope="col">Reckoned with</th>
            </tr>
          </thead>
          <tbody>
            {record.within.map((row) => (
              <tr key={row.days}>
                <th scope="row">{row.days} days</th>
                <td>{row.letters}</td>
                <td>{row.booked}</td>
                <td>{Math.round(row.reckonedPercent)} %</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <p className="second small">
        A household answers once: all its stages that are due are changed on one visit. What nobody booked yet counts by
        the days since its letter; whoever moved counts for nothing.
      </p>
    </SheetPart>
  )
}
