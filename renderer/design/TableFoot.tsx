import { useState } from 'react'
import { writeCsv } from '../../core/imports/write-csv.ts'
import { counted } from '../../core/units/date-words.ts'
import { Button } from './Button.tsx'
import { ColumnMenu } from './ColumnMenu.tsx'
import { saveText } from './save-file.ts'
import { exportLines, type TableColumn, type TableKey } from './table-columns.ts'

interface TableFootProps<Item> {
  readonly name: string
  readonly columns: readonly TableColumn<Item>[]
  readonly shown: ReadonlySet<string>
  readonly onColumns: (shown: ReadonlySet<string>) => void
  readonly items: readonly Item[]
  readonly exportRows: (() => Promise<readonly Item[]>) | undefined
  readonly total: number
  readonly chooses: boolean
  readonly opens: boolean
  readonly keys: readonly TableKey<Item>[]
}

/** Below the table: what the keys do, how much is listed, which columns, and the list as a file. */
export function TableFoot<Item>(props: TableFootProps<Item>) {
  const [said, setSaid] = useState('')
  const save = async (): Promise<void> => {
    setSaid('Gathering the list …')
    try {
      const items = props.exportRows ? await props.exportRows() : props.items
      const { headers, lines } = exportLines(
        props.columns.filter((column) => props.shown.has(column.id)),
        items,
      )
      const saved = await saveText(`${props.name}.csv`, 'text/csv', writeCsv(headers, lines))
      setSaid(saved ? `Saved ${counted(items.length, 'row')} in ${props.name}.csv` : 'Not saved.')
    } catch {
      setSaid('The list could not be gathered. Nothing was saved. Try again.')
    }
  }
  const more =
    props.total > props.items.length
      ? `${props.items.length.toLocaleString('en-US')} of ${counted(props.total, 'row')} fetched`
      : ''
  return (
    <div className="data-table-foot small second">
      <p>{hintOf(props.chooses, props.opens, props.keys)}</p>
      <p aria-live="polite">{said === '' ? more : said}</p>
      <ColumnMenu columns={props.columns} shown={props.shown} onColumns={props.onColumns} />
      <Button kind="quiet" onPress={save} isDisabled={props.total === 0}>
        Save this list
      </Button>
    </div>
  )
}

/** "Space chooses, Enter opens, B books". */
export function hintOf(
  chooses: boolean,
  opens: boolean,
  keys: readonly { readonly key: string; readonly does: string }[],
): string {
  const hints = [
    ...(chooses ? ['Space chooses'] : []),
    ...(opens ? ['Enter opens'] : []),
    ...keys.map((key) => `${key.key.toUpperCase()} ${key.does}`),
  ]
  return hints.join(', ')
}
