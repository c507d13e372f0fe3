import { useMemo, useState } from 'react'
import { type CalendarDate, calendarDate } from '../../../core/units/calendar-date.ts'
import { type Cents, cents } from '../../../core/units/money.ts'
import { Button } from '../../../renderer/design/Button.tsx'
import { CheckField } from '../../../renderer/design/CheckField.tsx'
import { ChoiceField, InlineChoice, InlineChoices } from '../../../renderer/design/ChoiceField.tsx'
import { DataTable } from '../../../renderer/design/DataTable.tsx'
import { DateField } from '../../../renderer/design/DateField.tsx'
import { Decision } from '../../../renderer/design/Dialog.tsx'
import { EmptyPlace } from '../../../renderer/design/EmptyPlace.tsx'
import { Facts } from '../../../renderer/design/Facts.tsx'
import { TextField } from '../../../renderer/design/Field.tsx'
import { MoneyField } from '../../../renderer/design/MoneyField.tsx'
import { NumberField } from '../../../renderer/design/NumberField.tsx'
import { ProblemNote } from '../../../renderer/design/ProblemNote.tsx'
import { ProgressLine } from '../../../renderer/design/ProgressLine.tsx'
import { SearchField } from '../../../renderer/design/SearchField.tsx'
import { SecondSheet, Sheet, SheetPart, Sheets } from '../../../renderer/design/Sheet.tsx'
import { StageTrain } from '../../../renderer/design/StageTrain.tsx'
import type { TableColumn } from '../../../renderer/design/table-columns.ts'
import { useSay } from '../../../renderer/design/undo.ts'
import { useDraft } from '../../../renderer/design/use-draft.ts'
import { DistanceText, MeasureText, MoneyText, TwoLines } from '../../../renderer/design/Words.tsx'
import { Pictures } from './Pictures.tsx'
import { LATE_TRAIN, LONG_TRAIN } from './some-trains.ts'

interface Household {
  readonly id: number
  readonly name: string
  readonly town: string
  readonly dueOn: CalendarDate
  readonly price: Cents
}

const TOWNS = ['Tollard Mill', 'Pell Harbor', 'Orrin Falls', 'Saltgrass', 'Nether Quay']
const ROWS: readonly Household[] = Array.from({ length: 100_000 }, (_, index) => ({
  id: index + 1,
  name: `Household ${String(index + 1).padStart(6, '0')}`,
  town: TOWNS[index % TOWNS.length] ?? '',
  dueOn: calendarDate(`2026-${index % 2 === 0 ? '11' : '12'}-${String((index % 28) + 1).padStart(2, '0')}`),
  price: cents(8640 + index),
}))
const TODAY = calendarDate('2026-12-01')

const COLUMNS: readonly TableColumn<Household>[] = [
  {
    id: 'household',
    header: 'Household',
    value: (row) => row.name,
    cell: (row) => <TwoLines first={<b>{row.name}</b>} second={row.town} />,
    width: { share: 2, least: 150 },
    fixed: true,
  },
  {
    id: 'train',
    header: 'Stages, feed to tap',
    value: () => null,
    cell: () => <StageTrain stages={LATE_TRAIN} size="row" />,
    width: 144,
    sorts: false,
  },
  {
    id: 'due',
    header: 'Earliest due',
    value: (row) => row.dueOn,
    cell: (row) => <DistanceText date={row.dueOn} />,
    width: 110,
  },
  {
    id: 'price',
    header: 'Price, USD',
    value: (row) => row.price / 100,
    cell: (row) => <MoneyText cents={row.price} bare />,
    width: 90,
    figures: true,
  },
  { id: 'town', header: 'Town', value: (row) => row.town, width: 100, hidden: true },
]
const rowKey = (row: Household): string => String(row.id)

export function Gallery({ part }: { readonly part: string }) {
  if (part === 'fields') return <Fields />
  if (part === 'states') return <States />
  if (part === 'pictures') return <Pictures />
  return <Table />
}

function Table() {
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set(['3']))
  const [open, setOpen] = useState<string | null>('1')
  const [pages, setPages] = useState(1)
  const [acted, setActed] = useState('')
  const [isPaged] = useState(location.hash.includes('paged'))
  const rows = useMemo(() => (isPaged ? ROWS.slice(0, pages * 50) : ROWS), [isPaged, pages])
  return (
    <Sheets
      second={
        open === null ? null : (
          <SecondSheet
            title="Abernathy-Vance, Corinne"
            below="18 Weirside Lane, Tollard Mill · 555-0142, mornings"
            onClose={() => setOpen(null)}
            backTo="what is due"
          >
            <SheetPart title="The unit under the kitchen sink, since May 2021">
              <StageTrain stages={LATE_TRAIN} size="full" />
            </SheetPart>
            <SheetPart title="A long one">
              <StageTrain stages={LONG_TRAIN} size="full" />
            </SheetPart>
            <SheetPart title="Readings">
              <Facts
                facts={[
                  { label: 'TDS in', value: <MeasureText text="412 mg/L" /> },
                  { label: 'Feed', value: <MeasureText text="58 psi" /> },
                ]}
              />
            </SheetPart>
          </SecondSheet>
        )
      }
    >
      <Sheet
        title="42 households are due within 4 weeks"
        aside="2 late"
        actions={<Button kind="primary">Write 3 letters</Button>}
        choices={<Choices />}
      >
        <DataTable
          name="gallery"
          label="Households that are due"
          columns={COLUMNS}
          rows={rows}
          rowKey={rowKey}
          rowName={(row) => row.name}
          density="two-line"
          chosen={chosen}
          onChoose={setChosen}
          onOpen={(row) => setOpen(String(row.id))}
          openKey={open}
          marked={(row) => row.dueOn < TODAY}
          total={ROWS.length}
          loadMore={isPaged ? () => setPages((before) => before + 1) : undefined}
          keys={[{ key: 'b', does: 'books', run: (items) => setActed(`booked ${items.length}`) }]}
          empty={{ why: 'Nothing is due.' }}
        />
        <output>{acted}</output>
      </Sheet>
    </Sheets>
  )
}

function Choices() {
  const [weeks, setWeeks] = useState('4')
  return (
    <InlineChoices>
      <InlineChoice
        words="within"
        label="How far ahead"
        value={weeks}
        onChange={setWeeks}
        choices={[
          { id: '4', words: '4 weeks' },
          { id: '8', words: '8 weeks' },
        ]}
      />
    </InlineChoices>
  )
}

function Fields() {
  const { draft, setDraft } = useDraft('gallery', 'kept')
  const [money, setMoney] = useState<Cents | null>(cents(123450))
  const [date, setDate] = useState<CalendarDate | null>(TODAY)
  const [number, setNumber] = useState<number | null>(58)
  const [choice, setChoice] = useState<'a' | 'b'>('a')
  const [checked, setChecked] = useState(true)
  const [typed, setTyped] = useState('')
  const [asks, setAsks] = useState(false)
  const say = useSay()
  return (
    <Sheets>
      <Sheet title="Fields and decisions">
        <div className="fields">
          <TextField label="Name" value={draft} onChange={setDraft} note="As it stands on letters." />
          <TextField label="Remarks" value="" onChange={() => undefined} lines={3} />
          <TextField
            label="E-mail"
            value="nobody"
            onChange={() => undefined}
            problem="This is not an e-mail address."
          />
          <MoneyField label="Price" value={money} onChange={setMoney} />
          <DateField label="Day" value={date} onChange={setDate} />
          <NumberField label="Feed pressure" unit="psi" value={number} onChange={setNumber} least={0} most={200} />
          <ChoiceField
            label="Technician"
            value={choice}
            onChange={setChoice}
            choices={[
              { id: 'a', words: 'Ilse R.' },
              { id: 'b', words: 'Tobin M.', note: 'off on Friday' },
            ]}
          />
          <SearchField label="Find" value={typed} onChange={setTyped} placeholder="Find anything" shortcut="/" />
          <CheckField value={checked} onChange={setChecked}>
            Sanitised
          </CheckField>
          <CheckField value={checked} onChange={setChecked} glove>
            A-02-1, nine sediment filters
          </CheckField>
        </div>
        <div className="form-foot">
          <Button kind="primary" onPress={() => setAsks(true)}>
            Take back 42 letters
          </Button>
          <Button
            onPress={() =>
              say({
                said: 'Booked for Tuesday, Dec 8.',
                undo: async () => undefined,
                undone: 'The booking is taken back.',
              })
            }
          >
            Book Tuesday morning
          </Button>
          <Button kind="quiet">Columns</Button>
          <Button isDisabled>Write 0 letters</Button>
        </div>
        <Decision
          isOpen={asks}
          title="Take back the run of 42 letters?"
          doIt="Take back 42 letters"
          leaveIt="Keep the run"
          onDoIt={() => setAsks(false)}
          onLeaveIt={() => setAsks(false)}
        >
          <p>The letters count as never written. Paper that is in the post stays in the post.</p>
        </Decision>
      </Sheet>
    </Sheets>
  )
}

function States() {
  return (
    <Sheets>
      <Sheet title="States">
        <EmptyPlace
          why="Nothing is due within 4 weeks."
          todo="Look further ahead, or bring in a list of households."
          action={<Button>Bring in a list</Button>}
        />
        <ProblemNote
          problem={{
            sentence: 'The office does not answer.',
            nextStep: 'See whether Penstock is still running, then try again.',
          }}
          kept="What you typed is still here."
          id="k3f9a2"
          onTryAgain={() => undefined}
        />
        <ProgressLine words="Writing letters" done={17} total={42} onStop={() => undefined} />
        <ProgressLine words="Reading the list" done={0} total={null} />
        <SheetPart title="No stages">
          <StageTrain stages={[]} size="full" />
        </SheetPart>
        <DataTable
          name="waiting"
          label="A list on its way"
          columns={COLUMNS}
          rows={null}
          rowKey={rowKey}
          rowName={(row) => row.name}
          empty={{ why: '' }}
          rowsInSight={2}
          bare
        />
        <DataTable
          name="empty"
          label="An empty list"
          columns={COLUMNS}
          rows={[]}
          rowKey={rowKey}
          rowName={(row) => row.name}
          empty={{ why: 'No part runs short.' }}
          rowsInSight={2}
        />
        <DataTable
          name="short"
          label="A short list"
          columns={COLUMNS}
          rows={ROWS.slice(0, 3)}
          rowKey={rowKey}
          rowName={(row) => row.name}
          density="glove"
          empty={{ why: '' }}
          rowsInSight={3}
          bare
        />
      </Sheet>
    </Sheets>
  )
}
