import type { ProposalDetail } from '../../core/orders/proposal-shapes.ts'
import { drawStock, stockWords } from '../../core/orders/stock-picture.ts'
import { shortDate } from '../../core/units/date-words.ts'
import { DrawnPicture } from '../design/DrawnPicture.tsx'
import { useOffice } from '../design/office-manner.ts'
import { useWidth } from '../design/use-width.ts'
import { DateText } from '../design/Words.tsx'

/** The stock of the coming weeks with and without the order, and the same as a table. */
export function StockPicture({ proposal }: { readonly proposal: ProposalDetail }) {
  const { locale } = useOffice()
  const [place, width] = useWidth(556)
  const { weeks, covers, order } = proposal
  const facts = { weeks, covers, order, locale }
  const drawing = drawStock(facts, width)
  return (
    <>
      <div ref={place}>
        {drawing && <DrawnPicture title="The stock of the coming weeks" words={stockWords(facts)} drawing={drawing} />}
      </div>
      <p className="second small">
        Further orders come on top of it: this one has to last until {shortDate(covers, locale)}.
      </p>
      <details className="order-weeks">
        <summary>Week by week</summary>
        <table className="order-figures">
          <thead>
            <tr>
              <th scope="col">Week from</th>
              <th scope="col">Used</th>
              <th scope="col">Comes in</th>
              <th scope="col">Expires</th>
              <th scope="col">Left</th>
              <th scope="col">Without this order</th>
            </tr>
          </thead>
          <tbody>
            {weeks.map((week) => (
              <tr key={week.from}>
                <th scope="row">
                  <DateText date={week.from} as="day" />
                </th>
                <td>{tenth(week.use)}</td>
                <td>{week.arrives === 0 ? '' : week.arrives}</td>
                <td>{week.expires < 0.05 ? '' : tenth(week.expires)}</td>
                <td>{tenth(week.leftWithOrder)}</td>
                <td>{tenth(week.left)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </>
  )
}

function tenth(pieces: number): string {
  const text = Math.abs(pieces).toFixed(1)
  return pieces <= -0.05 ? `−${text}` : text
}
