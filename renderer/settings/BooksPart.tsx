import { Link } from '@tanstack/react-router'
import { SheetPart } from '../design/Sheet.tsx'
import { useOfficeState } from '../shell/office-state.ts'
import { BackupsPart } from './BackupsPart.tsx'

/** Where the books lie, how they are kept safe, and where lists come in. */
export function BooksPart() {
  const { isDemo } = useOfficeState()
  return (
    <>
      <SheetPart title="Where the books lie">
        {isDemo && (
          <p className="bold">
            This is the demo office. Its people, towns and figures are invented; start an office of your own before
            writing down anything real.
          </p>
        )}
        <p>
          Everything is in one place on the machine that holds the books: a single file, or your own database server
          where one was set up. Nothing is sent anywhere. README, in the program’s folder, names the file and how to
          choose another.
        </p>
      </SheetPart>
      <BackupsPart />
      <SheetPart title="Lists in and out">
        <p>
          <Link to="/import" search={{}}>
            Bring in a list of households
          </Link>{' '}
          from a spreadsheet: every row is judged first, and nothing is written until you say so. Each table can be
          saved as a list by the line at its foot.
        </p>
      </SheetPart>
    </>
  )
}
