import type { Taken } from '../../core/imports/imports-contract.ts'
import { counted } from '../../core/units/date-words.ts'
import { Button } from '../design/Button.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import './import.css'

interface TakenSheetProps {
  readonly taken: Taken
  readonly onAnother: () => void
  readonly onHouseholds: () => void
}

/** What an import did, and what to do when it was a mistake. */
export function TakenSheet({ taken, onAnother, onHouseholds }: TakenSheetProps) {
  const lines = [
    `${counted(taken.fresh, 'household')} with ${counted(taken.stages, 'stage')} ${taken.fresh === 1 ? 'is' : 'are'} new in the books; the due dates are reckoned.`,
    ...(taken.joined > 0
      ? [
          `${counted(taken.joined, 'household')} that ${taken.joined === 1 ? 'was' : 'were'} there already got what was missing.`,
        ]
      : []),
    ...(taken.unchanged > 0 ? [`${counted(taken.unchanged, 'household')} had nothing new to tell.`] : []),
    ...(taken.leftOut > 0 ? [`${counted(taken.leftOut, 'household')} left out, as you chose.`] : []),
    ...(taken.refused > 0
      ? [
          `${counted(taken.refused, 'row')} refused: correct them in the file you saved, and bring that; nobody is doubled.`,
        ]
      : []),
  ]
  return (
    <Sheets>
      <Sheet
        title="The list is in the books"
        actions={
          <>
            <Button onPress={onAnother}>Bring another list</Button>
            <Button kind="primary" onPress={onHouseholds}>
              Look at the households
            </Button>
          </>
        }
      >
        <div className="import-page">
          {lines.map((line) => (
            <p key={line}>{line}</p>
          ))}
          <p className="second">
            A household that came in by mistake can be closed on its own sheet. If the whole list was a mistake: the
            books as they were just before are kept as a backup, to be put back under Settings, Books and backups.
          </p>
        </div>
      </Sheet>
    </Sheets>
  )
}
