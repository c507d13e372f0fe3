import type { ReactNode } from 'react'
import { Button as AriaButton, GridList, GridListItem, useDragAndDrop } from 'react-aria-components'
import { Button } from '../design/Button.tsx'

interface OrderedRow {
  readonly id: string
  readonly name: string
  readonly words: ReactNode
}

interface OrderedRowsProps {
  readonly label: string
  readonly rows: readonly OrderedRow[]
  /** The row whose bins are looked at; null where rows are not opened. */
  readonly chosen: string | null
  readonly onChoose: ((id: string) => void) | null
  readonly onMove: (from: number, to: number) => void
}

/** Rows in an order that counts: dragged by the mouse, by the keyboard (Enter on the handle, arrows, Enter), or moved by their buttons. */
export function OrderedRows({ label, rows, chosen, onChoose, onMove }: OrderedRowsProps) {
  const placeOf = (id: unknown): number => rows.findIndex((row) => row.id === id)
  const { dragAndDropHooks } = useDragAndDrop({
    getItems: (keys) => [...keys].map((key) => ({ 'text/plain': String(key) })),
    onReorder: ({ keys, target }) => {
      const from = placeOf([...keys][0])
      const at = placeOf(target.key) + (target.dropPosition === 'after' ? 1 : 0)
      onMove(from, from < at ? at - 1 : at)
    },
  })
  return (
    <GridList
      aria-label={label}
      className="ordered-rows"
      items={rows.map((row) => ({ ...row }))}
      dependencies={[rows, chosen]}
      dragAndDropHooks={dragAndDropHooks}
      selectionMode={onChoose === null ? 'none' : 'single'}
      disallowEmptySelection
      selectedKeys={chosen === null ? [] : [chosen]}
      onSelectionChange={(keys) => {
        const [key] = keys === 'all' ? [] : [...keys]
        if (key !== undefined) onChoose?.(String(key))
      }}
    >
      {(row) => {
        const place = placeOf(row.id)
        return (
          <GridListItem id={row.id} textValue={row.name} className="ordered-row">
            <AriaButton slot="drag" className="ordered-handle" aria-label={`Drag ${row.name}`}>
              <svg viewBox="0 0 10 16" width="10" height="16" aria-hidden="true">
                <path d="M2 3h1M7 3h1M2 8h1M7 8h1M2 13h1M7 13h1" />
              </svg>
            </AriaButton>
            <span className="ordered-place second">{place + 1}</span>
            <span className="ordered-name">
              <b>{row.name}</b> {row.words}
            </span>
            <Button
              kind="quiet"
              isDisabled={place === 0}
              onPress={() => onMove(place, place - 1)}
              aria-label={`Earlier: ${row.name}`}
            >
              Earlier
            </Button>
            <Button
              kind="quiet"
              isDisabled={place === rows.length - 1}
              onPress={() => onMove(place, place + 1)}
              aria-label={`Later: ${row.name}`}
            >
              Later
            </Button>
          </GridListItem>
        )
      }}
    </GridList>
  )
}
