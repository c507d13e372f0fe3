import type { OrderInFull } from '../../core/orders/order-shapes.ts'
import { counted, dayAndMonth } from '../../core/units/date-words.ts'
import { Button } from '../design/Button.tsx'
import { useOffice } from '../design/office-manner.ts'
import { SheetPart } from '../design/Sheet.tsx'
import { DateText } from '../design/Words.tsx'
import { useGoTo } from '../shell/open-record.ts'

/** Who goes without while the order is not there: day, household, part, and the way to each visit. */
export function WaitingVisits({ waiting }: { readonly waiting: OrderInFull['waiting'] }) {
  const goTo = useGoTo()
  const { locale } = useOffice()
  if (waiting === null) return null
  const { count, visits } = waiting
  const title = count === 0 ? 'Who waits for it' : `${counted(count, 'visit')} ${count === 1 ? 'waits' : 'wait'} for it`
  return (
    <SheetPart title={title}>
      <p>{waiting.sentence}</p>
      {count > 0 && (
        <ul className="order-waiting" aria-label="Visits that wait for this order">
          {visits.map(({ visitId, on, household, lacks }) => (
            <li key={visitId} className="order-row">
              <div>
                <DateText date={on} as="visit" />, <b>{household}</b>
                {lacks.map((words) => (
                  <div key={words} className="second small">
                    {words}
                  </div>
                ))}
              </div>
              <Button
                kind="quiet"
                onPress={() => goTo('/visits', String(visitId))}
                aria-label={`Open the visit of ${household} on ${dayAndMonth(on, locale)}`}
              >
                Open the visit
              </Button>
            </li>
          ))}
        </ul>
      )}
      {count > visits.length && (
        <p className="second small">{counted(count - visits.length, 'visit')} more, on later days.</p>
      )}
    </SheetPart>
  )
}
