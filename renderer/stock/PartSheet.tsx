import { useInfiniteQuery, useMutation, useQuery } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import { useMemo, useState } from 'react'
import type { LotDetail, MovementLine, PartDetail, PartFields } from '../../core/stock/stock-contract.ts'
import { counted } from '../../core/units/date-words.ts'
import type { MovementId, PartId } from '../../core/units/ids.ts'
import { NO_MONEY } from '../../core/units/money.ts'
import { Button } from '../design/Button.tsx'
import { DataTable } from '../design/DataTable.tsx'
import { Facts } from '../design/Facts.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet, SheetPart } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { DateText, MoneyText } from '../design/Words.tsx'
import { everyPage } from '../shell/every-page.ts'
import { ask, office, problemOf } from '../shell/office-door.ts'
import { LotForm } from './LotForm.tsx'
import { PartForm } from './PartForm.tsx'
import { PartLabels } from './PartLabels.tsx'
import { ReceiveForm } from './ReceiveForm.tsx'
import { roomText } from './room-words.ts'
import { MOVEMENT_COLUMNS } from './stock-columns.tsx'
import { TermsPart } from './TermsPart.tsx'

const NEW_PART: PartFields = {
  number: '',
  name: '',
  stageKind: null,
  gtin: '',
  price: NO_MONEY,
  cost: NO_MONEY,
  taxFree: false,
  ratedMillilitres: null,
  shelfMonths: null,
  fitMinutes: null,
  perVisitQuantity: 0,
  vanPar: 0,
  spaceMillilitres: null,
  leastToKeep: null,
  serviceLevelPercent: null,
  note: '',
  closedOn: null,
}

/** A part that is not in the books yet. */
export function NewPart({
  onClose,
  onSaved,
}: {
  readonly onClose: () => void
  readonly onSaved: (partId: PartId) => void
}) {
  return (
    <SecondSheet title="A new part" onClose={onClose} backTo="the parts">
      <PartForm partId={null} version={null} fields={NEW_PART} substitutes={[]} bins={[]} onSaved={onSaved} />
    </SecondSheet>
  )
}

type Form = 'receive' | 'change' | 'labels' | { readonly lotId: number; readonly placeId: number } | null

/** A part: its lots and where they lie, what is awaited, what happened; and the forms that change it. */
export function PartSheet({ partId, onClose }: { readonly partId: PartId; readonly onClose: () => void }) {
  const part = useQuery(ask.stock.part.queryOptions({ input: { partId } }))
  const [form, setForm] = useState<Form>(null)
  const done = (): void => setForm(null)
  if (part.error)
    return (
      <SecondSheet title="This part" onClose={onClose} backTo="the parts">
        <ProblemNote problem={problemOf(part.error)} onTryAgain={() => void part.refetch()} />
      </SecondSheet>
    )
  if (!part.data) return null
  const { fields } = part.data
  return (
    <SecondSheet title={fields.name} below={fields.number} onClose={onClose} backTo="the parts">
      <div className="stock-form-row">
        <Button kind="primary" onPress={() => setForm(form === 'receive' ? null : 'receive')}>
          Receive a lot
        </Button>
        <Button onPress={() => setForm(form === 'labels' ? null : 'labels')}>Print labels</Button>
        <Button onPress={() => setForm(form === 'change' ? null : 'change')}>Change this part</Button>
      </div>
      {form === 'receive' && <ReceiveForm part={part.data} onDone={done} />}
      {form === 'labels' && <PartLabels partId={partId} onDone={done} />}
      {form === 'change' && (
        <PartForm
          partId={partId}
          version={part.data.version}
          fields={fields}
          substitutes={part.data.substitutes.map((each) => each.partId)}
          bins={part.data.bins.map((bin) => bin.placeId)}
          onSaved={done}
        />
      )}
      <Lots part={part.data} form={form} onForm={setForm} />
      <TermsPart partId={partId} />
      <PartFacts part={part.data} />
      <Movements partId={partId} />
    </SecondSheet>
  )
}

function Lots({
  part,
  form,
  onForm,
}: {
  readonly part: PartDetail
  readonly form: Form
  readonly onForm: (form: Form) => void
}) {
  const heaps = part.lots.flatMap((lot) => lot.heaps.map((heap) => ({ lot, heap })))
  const chosen =
    typeof form === 'object' && form !== null
      ? heaps.find(({ lot, heap }) => lot.lotId === form.lotId && heap.placeId === form.placeId)
      : undefined
  return (
    <SheetPart title="What lies where">
      {heaps.length === 0 ? (
        <p className="second">Nothing of it is in stock. Receive its first lot into a bin.</p>
      ) : (
        <table className="stock-lots">
          <thead>
            <tr className="second small">
              <th>Lot</th>
              <th>Good until</th>
              <th>Place</th>
              <th className="figure">Pieces</th>
              <th className="figure">Promised</th>
              <th>
                <span className="for-ears">Change</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {heaps.map(({ lot, heap }) => (
              <tr key={`${lot.lotId}/${heap.placeId}`}>
                <td>
                  {lot.lot}
                  {lot.recalledOn !== null && <b> recalled</b>}
                </td>
                <td>{lot.expiresOn === null ? '' : <DateText date={lot.expiresOn} />}</td>
                <td>{heap.place}</td>
                <td className="figure">{heap.quantity}</td>
                <td className="figure">{heap.promised > 0 ? heap.promised : ''}</td>
                <td>
                  <Button
                    kind="quiet"
                    onPress={() => onForm({ lotId: lot.lotId, placeId: heap.placeId })}
                    aria-label={`Move or count lot ${lot.lot} in ${heap.place}`}
                  >
                    Move or count
                  </Button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <UsedUpLots lots={part.lots.filter((lot) => lot.heaps.length === 0)} />
      {chosen && (
        <LotForm
          key={`${chosen.lot.lotId}/${chosen.heap.placeId}`}
          lot={chosen.lot}
          heap={chosen.heap}
          onDone={() => onForm(null)}
        />
      )}
    </SheetPart>
  )
}

/** Lots of which nothing is left here: homes may still hold some, and a notice may come. */
function UsedUpLots({ lots }: { readonly lots: readonly LotDetail[] }) {
  if (lots.length === 0) return null
  return (
    <p className="second">
      Used up:{' '}
      {lots.map(({ lotId, lot, recalledOn }, index) => (
        <span key={lotId}>
          {index > 0 && ', '}
          <Link className="link" to="/recall" search={{ lot: String(lotId) }}>
            {lot}
          </Link>
          {recalledOn !== null && <b> recalled</b>}
        </span>
      ))}
      . Open one to see which homes hold it.
    </p>
  )
}

function PartFacts({ part }: { readonly part: PartDetail }) {
  const { fields } = part
  const { measures } = useOffice()
  const awaited = part.awaited.map((order) => (
    <div key={`${order.orderNumber}/${order.quantity}`}>
      {order.quantity} from {order.supplier}, {order.orderNumber}
      {order.expectedOn !== null && (
        <>
          , <DateText date={order.expectedOn} as="day" />
        </>
      )}
    </div>
  ))
  return (
    <SheetPart title="The part">
      <Facts
        facts={[
          { label: 'Price', value: <MoneyText cents={fields.price} /> },
          { label: 'Cost', value: <MoneyText cents={fields.cost} /> },
          { label: 'Usual bins', value: part.bins.map((bin) => bin.name).join(', ') },
          {
            label: 'Stands in for it',
            value: part.substitutes.map((each) => `${each.name} ${each.number}`).join(', '),
          },
          { label: 'On every van', value: fields.vanPar === 0 ? null : counted(fields.vanPar, 'piece') },
          {
            label: 'Room a piece takes',
            value: fields.spaceMillilitres === null ? null : roomText(fields.spaceMillilitres, measures),
          },
          { label: 'At every visit', value: fields.perVisitQuantity === 0 ? null : fields.perVisitQuantity },
          { label: 'Keep at least', value: fields.leastToKeep },
          { label: 'Keeps for', value: fields.shelfMonths === null ? null : `${fields.shelfMonths} months` },
          { label: 'Awaited', value: awaited.length > 0 ? awaited : null },
          { label: 'Note', value: fields.note },
        ]}
      />
    </SheetPart>
  )
}

const movementKey = (line: MovementLine): string => String(line.movementId)

/** Every movement of a part, also those that were not fetched yet. */
function everyMovement(partId: PartId): Promise<MovementLine[]> {
  return everyPage(async (before: MovementId | null) => {
    const page = await office.stock.movements({ partId, before })
    return { rows: page.movements, next: page.more ? (page.movements.at(-1)?.movementId ?? null) : null }
  })
}

function Movements({ partId }: { readonly partId: PartId }) {
  const say = useSay()
  const pages = useInfiniteQuery(
    ask.stock.movements.infiniteOptions({
      input: (before: MovementId | null) => ({ partId, before }),
      initialPageParam: null as MovementId | null,
      getNextPageParam: (page) => (page.more ? (page.movements.at(-1)?.movementId ?? null) : null),
    }),
  )
  const lines = useMemo(() => pages.data?.pages.flatMap((page) => page.movements) ?? null, [pages.data])
  const right = useMutation({
    ...ask.stock.putRight.mutationOptions(),
    onSuccess: (done) => say({ said: done.sentence }),
  })
  const putRight = (lines: readonly MovementLine[]): void => {
    const [line] = lines
    if (line?.canBePutRight) right.mutate({ movementId: line.movementId, note: '' })
  }
  return (
    <SheetPart title="Movements" aside="the latest first; none is ever changed">
      {right.error !== null && <ProblemNote problem={problemOf(right.error)} />}
      <DataTable
        name="movements"
        label="Movements of this part"
        columns={MOVEMENT_COLUMNS}
        rows={lines}
        rowKey={movementKey}
        total={pages.data?.pages[0]?.total}
        loadMore={pages.hasNextPage ? () => void pages.fetchNextPage() : undefined}
        problem={pages.error ? problemOf(pages.error) : null}
        onTryAgain={() => void pages.refetch()}
        rowName={(line) => `${line.quantity} pieces, ${line.movedOn}`}
        density="two-line"
        rowsInSight={6}
        quiet={(line) => line.corrected}
        exportRows={() => everyMovement(partId)}
        keys={[{ key: 'p', does: 'puts right by a counter-movement', run: putRight }]}
        empty={{ why: 'Nothing has moved yet.' }}
      />
    </SheetPart>
  )
}
