import { useMutation, useQuery } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import type { RecallHome, RecallSheetFacts } from '../../core/stock/recall-contract.ts'
import { counted } from '../../core/units/date-words.ts'
import { type LotId, siteIdSchema } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { DataTable } from '../design/DataTable.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { DateText } from '../design/Words.tsx'
import { HouseholdSheet } from '../households/HouseholdSheet.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { useOpenRecord } from '../shell/open-record.ts'
import { RecallFigures } from './RecallFigures.tsx'
import { FreeLotSheet, RecallLotSheet } from './RecallForms.tsx'
import { RecallLettersSheet } from './RecallLettersSheet.tsx'
import { RecallVisitsSheet } from './RecallVisitsSheet.tsx'
import { HOME_COLUMNS } from './recall-columns.tsx'

/** A lot: recalled, everything about the recall; not recalled, where it is and the press that recalls it. */
export function RecallSheet({ lotId }: { readonly lotId: LotId }) {
  const asked = useQuery(ask.recall.lot.queryOptions({ input: { lotId } }))
  const [open, setOpen] = useOpenRecord()
  const sheet = asked.data
  return (
    <Sheets second={sheet ? <Beside sheet={sheet} open={open} onClose={() => setOpen(null)} /> : null}>
      <Sheet
        title={sheet ? titleOf(sheet) : 'The lot'}
        aside={sheet && <Whose sheet={sheet} />}
        choices={
          <Link to="/recall" search={{}}>
            All recalled lots
          </Link>
        }
        actions={sheet && <Actions sheet={sheet} onOpen={setOpen} />}
      >
        {asked.error && <ProblemNote problem={problemOf(asked.error)} onTryAgain={() => void asked.refetch()} />}
        {sheet && (
          <>
            <RecallFigures sheet={sheet} />
            <Homes sheet={sheet} open={open} onOpen={setOpen} />
          </>
        )}
      </Sheet>
    </Sheets>
  )
}

function titleOf({ recalledOn, lot, partName }: RecallSheetFacts): string {
  return recalledOn === null ? `Lot ${lot} of ${partName}: fit for use` : `Recall of lot ${lot}, ${partName}`
}

function Whose({ sheet: { recalledOn, why, notice } }: { readonly sheet: RecallSheetFacts }) {
  if (recalledOn === null) return null
  return (
    <>
      since <DateText date={recalledOn} />
      {notice === '' ? '' : `, notice ${notice}`}: {why}
    </>
  )
}

interface BesideProps {
  readonly sheet: RecallSheetFacts
  readonly open: string | null
  readonly onClose: () => void
}

function Beside({ sheet, open, onClose }: BesideProps) {
  if (open === 'recall' && sheet.recalledOn === null) return <RecallLotSheet sheet={sheet} onClose={onClose} />
  if (open === 'visits') return <RecallVisitsSheet sheet={sheet} onClose={onClose} />
  if (open === 'letters') return <RecallLettersSheet sheet={sheet} onClose={onClose} />
  if (open === 'free' && sheet.recalledOn !== null) return <FreeLotSheet sheet={sheet} onClose={onClose} />
  const siteId = siteIdSchema.safeParse(Number(open))
  if (open === null || !siteId.success) return null
  return <HouseholdSheet key={open} siteId={siteId.data} backTo="the recall" onClose={onClose} />
}

function Actions({ sheet, onOpen }: { readonly sheet: RecallSheetFacts; readonly onOpen: (word: string) => void }) {
  const letters = useQuery(ask.recallLetters.ofLot.queryOptions({ input: { lotId: sheet.lotId } }))
  if (sheet.recalledOn === null)
    return (
      <Button kind="primary" onPress={() => onOpen('recall')}>
        Recall lot {sheet.lot} …
      </Button>
    )
  const toBook = sheet.homes.filter((home) => home.visit === null || !home.visit.changes).length
  const toWrite = letters.data?.toWrite ?? 0
  return (
    <>
      <Quarantine sheet={sheet} />
      <Button kind={toBook > 0 ? 'primary' : 'plain'} onPress={() => onOpen('visits')}>
        {toBook > 0 ? `Book ${counted(toBook, 'visit')} …` : 'Visits'}
      </Button>
      <Button kind={toBook === 0 && toWrite > 0 ? 'primary' : 'plain'} onPress={() => onOpen('letters')}>
        {toWrite > 0 ? `Write ${counted(toWrite, 'letter')} …` : 'Letters'}
      </Button>
      <Button onPress={() => onOpen('free')}>Fit for use again …</Button>
    </>
  )
}

/** What came back into a bin or onto a van since the recall goes after the rest. */
function Quarantine({ sheet }: { readonly sheet: RecallSheetFacts }) {
  const say = useSay()
  const quarantine = useMutation({
    ...ask.recall.quarantine.mutationOptions(),
    onSuccess: ({ sentence }) => say({ said: sentence }),
  })
  const loose = sheet.figures.inBins + sheet.figures.onVans
  if (loose === 0) return null
  return (
    <Button kind="primary" onPress={() => quarantine.mutate({ lotId: sheet.lotId })}>
      Quarantine {counted(loose, 'piece')}
    </Button>
  )
}

interface HomesProps {
  readonly sheet: RecallSheetFacts
  readonly open: string | null
  readonly onOpen: (word: string) => void
}

function Homes({ sheet, open, onOpen }: HomesProps) {
  return (
    <section className="recall-homes">
      <h2>
        {sheet.homes.length === 0
          ? 'No home holds any of it'
          : `${counted(sheet.homes.length, 'home')} with it, by town`}
      </h2>
      <DataTable<RecallHome>
        name="recall-homes"
        label="Homes that hold some of the lot"
        columns={HOME_COLUMNS}
        rows={sheet.homes}
        rowKey={(home) => String(home.siteId)}
        rowName={(home) => home.household}
        density="two-line"
        empty={{ why: 'None of the lot is fitted anywhere, as far as the books know.' }}
        onOpen={(home) => onOpen(String(home.siteId))}
        openKey={open}
        marked={(home) => sheet.recalledOn !== null && home.visit === null}
      />
    </section>
  )
}
