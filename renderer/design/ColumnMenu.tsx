import { Button as AriaButton, Menu, MenuItem, MenuTrigger, Popover, type Selection } from 'react-aria-components'
import { CheckMark } from './CheckMark.tsx'
import type { TableColumn } from './table-columns.ts'
import './menu.css'

interface ColumnMenuProps<Item> {
  readonly columns: readonly TableColumn<Item>[]
  readonly shown: ReadonlySet<string>
  readonly onColumns: (shown: ReadonlySet<string>) => void
}

/** Which columns are shown. The fixed ones are not offered. */
export function ColumnMenu<Item>({ columns, shown, onColumns }: ColumnMenuProps<Item>) {
  const choosable = columns.filter((column) => !column.fixed)
  if (choosable.length === 0) return null
  const onSelectionChange = (selection: Selection): void => {
    onColumns(selection === 'all' ? new Set(columns.map((column) => column.id)) : new Set([...selection].map(String)))
  }
  return (
    <MenuTrigger>
      <AriaButton className="button" data-kind="quiet">
        Columns
      </AriaButton>
      <Popover className="menu-sheet" placement="top end">
        <Menu
          className="menu"
          aria-label="Columns"
          selectionMode="multiple"
          selectedKeys={shown}
          onSelectionChange={onSelectionChange}
        >
          {choosable.map((column) => (
            <MenuItem key={column.id} id={column.id} textValue={column.header} className="menu-item">
              {({ isSelected }) => (
                <>
                  <CheckMark state={isSelected ? 'all' : 'none'} />
                  {column.header}
                </>
              )}
            </MenuItem>
          ))}
        </Menu>
      </Popover>
    </MenuTrigger>
  )
}
