import { CheckMark } from './CheckMark.tsx'
import type { TableColumn, TableSort } from './table-columns.ts'
import { headerRole, ROW_GROUP, rowRole } from './table-roles.ts'

interface TableHeadProps<Item> {
  readonly columns: readonly TableColumn<Item>[]
  readonly sort: TableSort | null
  readonly onSort: (sort: TableSort) => void
  /** Whether all, some or none are chosen; null without checkboxes. */
  readonly choice: 'all' | 'some' | 'none' | null
  readonly onChooseAll: () => void
}

/** The line of headers; each sorts, and says how. */
export function TableHead<Item>({ columns, sort, onSort, choice, onChooseAll }: TableHeadProps<Item>) {
  return (
    <div {...ROW_GROUP} className="data-table-head">
      <div {...rowRole(1)} className="data-table-row">
        {choice !== null && (
          <div {...headerRole()} className="data-table-choice">
            <button
              type="button"
              className="check-button"
              aria-label={choice === 'all' ? 'Choose none' : 'Choose all that are listed'}
              onClick={onChooseAll}
            >
              <CheckMark state={choice} />
            </button>
          </div>
        )}
        {columns.map((column) => (
          <div
            key={column.id}
            {...headerRole(sort?.column === column.id ? (sort.descending ? 'descending' : 'ascending') : null)}
            className={column.figures ? 'data-table-cell figures' : 'data-table-cell'}
          >
            {column.sorts === false ? column.header : <SortButton column={column} sort={sort} onSort={onSort} />}
          </div>
        ))}
      </div>
    </div>
  )
}

function SortButton<Item>({
  column,
  sort,
  onSort,
}: { readonly column: TableColumn<Item> } & Pick<TableHeadProps<Item>, 'sort' | 'onSort'>) {
  const here = sort?.column === column.id ? sort : null
  const descending = here ? !here.descending : (column.largestFirst ?? false)
  return (
    <button type="button" className="sort-button" onClick={() => onSort({ column: column.id, descending })}>
      {column.header}
      {here && <span aria-hidden="true">{here.descending ? ' ▾' : ' ▴'}</span>}
    </button>
  )
}
