import { useNavigate } from '@tanstack/react-router'
import type { OrderInFull } from '../../core/orders/order-shapes.ts'
import { counted } from '../../core/units/date-words.ts'
import { Button } from '../design/Button.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { DateText, MoneyText } from '../design/Words.tsx'

type Receipt = OrderInFull['receipts'][number]

/** What came so far, delivery by delivery, the latest first. */
export function OrderReceipts({ receipts }: { readonly receipts: readonly Receipt[] }) {
  if (receipts.length === 0) return null
  return (
    <SheetPart title={receipts.length === 1 ? 'One delivery' : `${receipts.length} deliveries`}>
      {receipts.map((receipt) => (
        <div key={receipt.receiptId} className="order-line">
          <div className="order-row">
            <div className="second small">
              <DateText date={receipt.receivedOn} as="visit" />, {receipt.by}
              {receipt.note !== '' && `: ${receipt.note}`}
            </div>
            <LabelsOfIt receipt={receipt} />
          </div>
          {receipt.lines.map((line) => (
            <div key={line.lotId} className="order-came">
              <div>
                {line.part.name}, lot {line.lot}
                {line.expiresOn && (
                  <>
                    , good until <DateText date={line.expiresOn} />
                  </>
                )}
                <div className="second small">{cameWords(line)}</div>
                {line.difference !== '' && <div className="small bold">{line.difference}</div>}
              </div>
              <span className="figures">
                <MoneyText cents={line.price} />
              </span>
            </div>
          ))}
        </div>
      ))}
    </SheetPart>
  )
}

/** Leads to the sheet of labels, with just these lots chosen; nothing where no good piece is left of the delivery. */
function LabelsOfIt({ receipt }: { readonly receipt: Receipt }) {
  const navigate = useNavigate()
  if (receipt.toLabel === 0) return null
  const search = { view: 'labels', receipt: String(receipt.receiptId) }
  return (
    <Button onPress={() => void navigate({ to: '/stock', search })}>Label {counted(receipt.toLabel, 'piece')}</Button>
  )
}

function cameWords(line: Receipt['lines'][number]): string {
  const said = [`${line.accepted} received`]
  if (line.damaged > 0) said.push(`${line.damaged} damaged, in quarantine`)
  if (line.putRight > 0) said.push(`${line.putRight} put right since`)
  return said.join(', ')
}
