import type { OrderInFull } from '../../core/orders/order-shapes.ts'
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
          <div className="second small">
            <DateText date={receipt.receivedOn} as="visit" />, {receipt.by}
            {receipt.note !== '' && `: ${receipt.note}`}
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

function cameWords(line: Receipt['lines'][number]): string {
  const said = [`${line.accepted} received`]
  if (line.damaged > 0) said.push(`${line.damaged} damaged, in quarantine`)
  if (line.putRight > 0) said.push(`${line.putRight} put right since`)
  return said.join(', ')
}
