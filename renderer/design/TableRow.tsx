import type { CSSProperties, MouseEvent } from 'react'
import { CheckMark } from './CheckMark.tsx'
import type { TableColumn } from './table-columns.ts'
import { CELL, rowRole } from './table-roles.ts'

interface TableRowProps<Item> {
  readonly id: string
  readonly item: Item
  readonly name: string
  /** Place in the shown order, from 0. */
  readonly index: number
  readonly start: number
  readonly height: number
  readonly columns: readonly TableColumn<Item>[]
  /** Null without checkboxes. */
  readonly isChosen: boolean | null
  readonly isOpen: boolean
  readonly isInHand: boolean
  readonly isMarked: boolean
  readonly isQuiet: boolean
  readonly opens: boolean
  readonly onChoose: (range: boolean) => void
  readonly onPress: () => void
}

/** One row. The table has the focus and the keyboard; a row only answers the mouse. */
export function TableRow<Item>(props: TableRowProps<Item>) {
  const { item, columns, isChosen } = props
  const style: CSSProperties = { height: props.height, transform: `translateY(${props.start}px)` }
  const onClick = (event: MouseEvent<HTMLDivElement>): void => {
    if (event.target instanceof Element && event.target.closest('button, a, input, label')) return
    if (event.shiftKey && isChosen !== null) props.onChoose(true)
    else props.onPress()
  }
  return (
    <div
      {...rowRole(props.index + 2, isChosen, props.isOpen)}
      {...{ onClick }}
      id={props.id}
      className="data-table-row"
      data-open={props.isOpen || undefined}
      data-hand={props.isInHand || undefined}
      data-marked={props.isMarked || undefined}
      data-quiet={props.isQuiet || undefined}
      data-opens={props.opens || undefined}
      style={style}
    >
      {isChosen !== null && (
        <div {...CELL} className="data-table-choice">
          <button
            type="button"
            className="check-button"
            tabIndex={-1}
            aria-label={`${isChosen ? 'Let go of' : 'Choose'} ${props.name}`}
            onClick={(event) => props.onChoose(event.shiftKey)}
          >
            <CheckMark state={isChosen ? 'all' : 'none'} />
          </button>
        </div>
      )}
      {columns.map((column) => (
        <div key={column.id} {...CELL} className={column.figures ? 'data-table-cell figures' : 'data-table-cell'}>
          {column.cell ? column.cell(item) : column.value(item)}
        </div>
      ))}
    </div>
  )
}
