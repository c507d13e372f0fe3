import { counted } from '../../core/units/date-words.ts'
import type { BookedVisitShape } from '../../core/visits/visit-shapes.ts'
import { whenInWords } from '../../core/visits/visit-words.ts'
import { Button } from '../design/Button.tsx'
import { useOffice } from '../design/office-manner.ts'
import { SheetPart } from '../design/Sheet.tsx'

interface NobodyYetProps {
  readonly visits: readonly BookedVisitShape[]
  readonly onGive: (visit: BookedVisitShape) => void
}

/** Visits with a day and a window that nobody has been sent to: each is to be given to someone. */
export function NobodyYet({ visits, onGive }: NobodyYetProps) {
  const { locale, today } = useOffice()
  if (visits.length === 0) return null
  return (
    <SheetPart
      title={`${counted(visits.length, 'visit')} that nobody has yet`}
      aside={
        visits.length === 1 ? 'nothing is pulled until someone has it' : 'nothing is pulled until someone has them'
      }
    >
      <ul className="nobody-yet">
        {visits.map((visit) => (
          <li key={visit.visitId}>
            <span>
              <b>{visit.household}</b> <span className="second">{visit.town}</span>
            </span>
            <span className={visit.on < today ? 'bold' : undefined}>{whenInWords(visit, locale)}</span>
            <Button kind="quiet" onPress={() => onGive(visit)}>
              Give it to someone<span className="for-ears">: {visit.household}</span>
            </Button>
          </li>
        ))}
      </ul>
    </SheetPart>
  )
}
