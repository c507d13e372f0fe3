import {
  columnVisibilityFeature,
  createColumnHelper,
  createSortedRowModel,
  rowSortingFeature,
  sortFns,
  tableFeatures,
  useTable,
} from '@tanstack/react-table'
import { useVirtualizer } from '@tanstack/react-virtual'
import {
  type CSSProperties,
  type KeyboardEvent,
  type ReactNode,
  type RefObject,
  useEffect,
  useId,
  useMemo,
  useRef,
  useState,
} from 'react'
import { useColumnChoice } from './column-choice.ts'
import { EmptyPlace } from './EmptyPlace.tsx'
import { useEarlyKeys, waitsForRows } from './early-keys.ts'
import { ProblemNote } from './ProblemNote.tsx'
import { sayInFull } from './read-in-full.ts'
import { TableFoot } from './TableFoot.tsx'
import { TableHead } from './TableHead.tsx'
import { TableRow } from './TableRow.tsx'
import { columnTemplate, leastWidth, type TableColumn, type TableKey, type TableSort } from './table-columns.ts'
import { choiceOf, toggled, withAll, withRange } from './table-hands.ts'
import { handleTableKey, itemsInHand, type Press, runTableKey } from './table-keyboard.ts'
import { gridRole, ROW_GROUP } from './table-roles.ts'
import './data-table.css'

/** Row heights: one line, two lines, two with room for the second to wrap, or for a thumb in a glove. */
export type TableDensity = 'dense' | 'two-line' | 'three-line' | 'glove'
const ROW_HEIGHT: Readonly<Record<TableDensity, number>> = {
  dense: 32,
  'two-line': 44,
  'three-line': 60,
  glove: 48,
}
const HEAD_HEIGHT = 32
const NOTHING: ReadonlySet<string> = new Set()

export interface DataTableProps<Item> {
  /** Short and lasting: the column choice is remembered under it, an exported list is called after it. */
  readonly name: string
  /** What the table holds, for ears: "Households that are due". */
  readonly label: string
  readonly columns: readonly TableColumn<Item>[]
  /** The rows fetched so far; null while the first ones are on their way. */
  readonly rows: readonly Item[] | null
  readonly rowKey: (item: Item) => string
  /** What a row is called, for its checkbox: "Abernathy-Vance, Corinne". */
  readonly rowName: (item: Item) => string
  readonly density?: TableDensity
  /** How many there are in all, when not all are fetched. */
  readonly total?: number | undefined
  /** Fetches the next page; called when the last fetched row comes in sight. Absent when everything is there. */
  readonly loadMore?: (() => void) | undefined
  readonly problem?: { readonly sentence: string; readonly nextStep: string; readonly id?: string } | null | undefined
  readonly onTryAgain?: (() => void) | undefined
  /** Why it is empty and what to do. */
  readonly empty: { readonly why: string; readonly todo?: string; readonly action?: ReactNode }
  /** The order; with `onSort` the office sorts, without it the table does. Absent: the order the rows came in. */
  readonly sort?: TableSort | null | undefined
  readonly onSort?: ((sort: TableSort) => void) | undefined
  /** Keys of the chosen rows. Without `onChoose` there are no checkboxes. */
  readonly chosen?: ReadonlySet<string>
  readonly onChoose?: ((chosen: ReadonlySet<string>) => void) | undefined
  /** Enter, or a click on a row. */
  readonly onOpen?: ((item: Item) => void) | undefined
  /** The row shown in the second sheet. */
  readonly openKey?: string | null | undefined
  readonly keys?: readonly TableKey<Item>[]
  /** A mark in the margin: late, or short. A cell says it in words as well. */
  readonly marked?: (item: Item) => boolean
  /** Second ink for a row that is done with. */
  readonly quiet?: (item: Item) => boolean
  /** Every row of the view, also those not fetched yet; absent when `rows` is everything. */
  readonly exportRows?: (() => Promise<readonly Item[]>) | undefined
  /** Height in rows for a table that is only part of a sheet; without it the table fills its place. */
  readonly rowsInSight?: number
  /** Leaves out the line below with the keys, the columns and the export: for a short list within a sheet. */
  readonly bare?: boolean
}

/**
 * The one table: virtual rows, keyboard, choice, column choice, sorting, export. Arrows, Home, End and the page keys move; Space
 * chooses (with Shift a range), Ctrl+A all; Enter opens; the letters of `keys` act. The focus stays on the table and the row in
 * hand is its active descendant, so that it outlives rows that scroll away.
 */
export function DataTable<Item>(props: DataTableProps<Item>) {
  const { columns, rows, rowKey, density = 'dense', chosen = NOTHING, onChoose, onOpen } = props
  const id = useId()
  const scroll = useRef<HTMLDivElement>(null)
  const [shown, chooseColumns] = useColumnChoice(props.name, columns)
  const inView = useMemo(() => columns.filter((column) => shown.has(column.id)), [columns, shown])
  const { items, sort, onSort } = useOrder(props)
  const keys = useMemo(() => items.map(rowKey), [items, rowKey])
  const height = ROW_HEIGHT[density]
  const virtual = useVirtualizer({
    count: items.length,
    getScrollElement: () => scroll.current,
    estimateSize: () => height,
    getItemKey: (index) => keys[index] ?? index,
    overscan: 8,
    scrollPaddingStart: HEAD_HEIGHT,
  })
  // Rows that grow or shrink, because a sheet opened beside them, are laid out anew.
  useEffect(() => {
    if (height > 0) virtual.measure()
  }, [virtual, height])
  const drawn = virtual.getVirtualItems()
  useLoadMore(drawn.at(-1)?.index ?? -1, items.length, props.loadMore)
  const hands = useHands(
    props,
    items,
    keys,
    (index) => virtual.scrollToIndex(index),
    () => Math.floor(((scroll.current?.clientHeight ?? 0) - HEAD_HEIGHT) / height),
    scroll,
  )

  if (props.problem) return <ProblemNote problem={props.problem} id={props.problem.id} onTryAgain={props.onTryAgain} />
  const withChoice = onChoose !== undefined
  const style = {
    '--columns': columnTemplate(inView, withChoice),
    '--least': `${leastWidth(inView, withChoice)}px`,
    height: props.rowsInSight && items.length > 0 ? HEAD_HEIGHT + 1 + props.rowsInSight * height : undefined,
  } as CSSProperties
  return (
    <div className="data-table" data-density={density} data-fills={props.rowsInSight ? undefined : true}>
      <div
        {...gridRole({
          label: props.label,
          rows: (props.total ?? items.length) + 1,
          columns: inView.length + (withChoice ? 1 : 0),
          chooses: withChoice,
          isBusy: rows === null,
          active: drawn.some((row) => row.index === hands.hand) ? `${id}-${hands.hand}` : undefined,
        })}
        ref={scroll}
        className="data-table-scroll"
        {...{ onKeyDown: hands.onKeyDown, onFocus: hands.onFocus, onMouseOver: sayInFull }}
        style={style}
      >
        <TableHead
          columns={inView}
          sort={sort}
          onSort={onSort}
          choice={withChoice ? choiceOf(chosen, keys) : null}
          onChooseAll={() => onChoose?.(withAll(chosen, keys))}
        />
        {items.length > 0 && (
          <div {...ROW_GROUP} className="data-table-body" style={{ height: virtual.getTotalSize() }}>
            {drawn.map((row) => {
              const item = items[row.index]
              const key = keys[row.index]
              if (item === undefined || key === undefined) return null
              return (
                <TableRow
                  key={key}
                  id={`${id}-${row.index}`}
                  item={item}
                  name={props.rowName(item)}
                  index={row.index}
                  start={row.start}
                  height={height}
                  columns={inView}
                  isChosen={withChoice ? chosen.has(key) : null}
                  isOpen={props.openKey === key}
                  isInHand={hands.hand === row.index}
                  isMarked={props.marked?.(item) ?? false}
                  isQuiet={props.quiet?.(item) ?? false}
                  opens={onOpen !== undefined}
                  onChoose={(range) => hands.choose(row.index, range)}
                  onPress={() => hands.press(row.index)}
                />
              )
            })}
          </div>
        )}
      </div>
      {rows === null && <p className="data-table-wait second">Fetching the list …</p>}
      {rows !== null && items.length === 0 && <EmptyPlace {...props.empty} />}
      {!props.bare && (
        <TableFoot
          name={props.name}
          columns={columns}
          shown={shown}
          onColumns={chooseColumns}
          items={items}
          exportRows={props.exportRows}
          total={props.total ?? items.length}
          chooses={withChoice}
          opens={onOpen !== undefined}
          keys={props.keys ?? []}
        />
      )}
    </div>
  )
}

const features = tableFeatures({
  rowSortingFeature,
  columnVisibilityFeature,
  sortedRowModel: createSortedRowModel(),
  sortFns,
})

/** The rows in the order asked for: by the office when it sorts (`onSort`), by the table's own row model otherwise. */
function useOrder<Item>(props: DataTableProps<Item>) {
  const { columns, rows, sort: givenSort, onSort: officeSorts } = props
  const [ownSort, setOwnSort] = useState<TableSort | null>(givenSort ?? null)
  const sort = officeSorts ? (givenSort ?? null) : ownSort
  const definitions = useMemo(() => {
    const helper = createColumnHelper<typeof features, { readonly item: Item }>()
    return helper.columns(
      columns.map((column) =>
        helper.accessor((row) => column.value(row.item) ?? undefined, {
          id: column.id,
          header: column.header,
          sortUndefined: 'last',
        }),
      ),
    )
  }, [columns])
  const data = useMemo(() => (rows ?? []).map((item) => ({ item })), [rows])
  const sorting = useMemo(() => (sort ? [{ id: sort.column, desc: sort.descending }] : []), [sort])
  const table = useTable({
    features,
    columns: definitions,
    data,
    state: { sorting },
    manualSorting: officeSorts !== undefined,
  })
  const ordered = table.getRowModel().rows
  const items = useMemo(() => ordered.map((row) => row.original.item), [ordered])
  return { items, sort, onSort: officeSorts ?? setOwnSort }
}

/** The row in hand and what the keyboard and the mouse do with it. */
function useHands<Item>(
  props: DataTableProps<Item>,
  items: readonly Item[],
  keys: readonly string[],
  show: (index: number) => void,
  page: () => number,
  place: RefObject<HTMLDivElement | null>,
) {
  const { chosen = NOTHING, onChoose, onOpen } = props
  const { hand, handNow, setInHand } = useHandOf(items.length)
  const [anchor, setAnchor] = useState(0)
  const goTo = (index: number): void => {
    setInHand(index)
    show(index)
  }
  const choose = (index: number, range: boolean): void => {
    const key = keys[index]
    if (!onChoose || key === undefined) return
    onChoose(range ? withRange(chosen, keys, anchor, index) : toggled(chosen, key))
    setAnchor(index)
    setInHand(index)
  }
  const open = (index: number): void => {
    const item = items[index]
    if (item !== undefined) onOpen?.(item)
  }
  const act = (press: Press): boolean =>
    handleTableKey(press, {
      count: items.length,
      page: page(),
      hand: handNow(),
      goTo,
      choose,
      extend: (to) => onChoose?.(withRange(chosen, keys, Math.max(0, handNow()), to)),
      chooseAll: () => onChoose?.(withAll(chosen, keys)),
      open,
      letter: (key) => runTableKey(props.keys ?? [], key, itemsInHand(items, keys, chosen, handNow())),
    })
  const takeHand = (): void => setInHand(Math.max(0, keys.indexOf(props.openKey ?? '')))
  const keepEarly = useEarlyKeys({ place, isThere: items.length > 0, hasHand: hand >= 0, takeHand, play: act })
  const onKeyDown = (event: KeyboardEvent<HTMLDivElement>): void => {
    if (event.target !== event.currentTarget || event.altKey) return
    const isEarly = props.rows === null && waitsForRows(event)
    if (isEarly) keepEarly(event)
    if (!isEarly && !act(event)) return
    event.preventDefault()
    event.stopPropagation()
  }
  const onFocus = (event: { target: EventTarget; currentTarget: EventTarget }): void => {
    if (event.target === event.currentTarget && handNow() < 0 && items.length > 0) takeHand()
  }
  const press = (index: number): void => {
    setInHand(index)
    open(index)
  }
  return { hand, choose, press, onKeyDown, onFocus }
}

/**
 * The row in hand, as drawn and as the last press left it: on a machine that is slow to draw, the next press must not act on the one
 * drawn before.
 */
function useHandOf(rows: number) {
  const [inHand, drawInHand] = useState(-1)
  const latest = useRef(-1)
  return {
    hand: Math.min(inHand, rows - 1),
    handNow: () => Math.min(latest.current, rows - 1),
    setInHand: (index: number): void => {
      latest.current = index
      drawInHand(index)
    },
  }
}

/** Asks for the next page when the last fetched row is near; once for each number of rows. */
function useLoadMore(lastDrawn: number, fetched: number, loadMore: (() => void) | undefined): void {
  const askedAt = useRef(-1)
  useEffect(() => {
    if (!loadMore || fetched === 0 || lastDrawn < fetched - 1 || askedAt.current === fetched) return
    askedAt.current = fetched
    loadMore()
  }, [lastDrawn, fetched, loadMore])
}
