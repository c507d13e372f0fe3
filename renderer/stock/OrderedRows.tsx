import { type ReactNode, useEffect, useRef, useState } from 'react'
import { Button } from '../design/Button.tsx'

interface OrderedRow {
  readonly id: string
  readonly name: string
  readonly words: ReactNode
}

interface OrderedRowsProps {
  readonly label: string
  readonly rows: readonly OrderedRow[]
  /** The row that is opened beside; null where rows are not opened. */
  readonly chosen: string | null
  readonly onChoose: ((id: string) => void) | null
  readonly onMove: (from: number, to: number) => void
}

type Way = 'earlier' | 'later'

/** Rows in an order that counts: dragged where they belong, or moved by their buttons, which keep the keyboard while they move. */
export function OrderedRows({ label, rows, chosen, onChoose, onMove }: OrderedRowsProps) {
  const list = useRef<HTMLOListElement>(null)
  const [dragged, setDragged] = useState<number | null>(null)
  const [over, setOver] = useState<number | null>(null)
  const hand = useRef<{ readonly id: string; readonly way: Way } | null>(null)
  useEffect(() => {
    const { current: held } = hand
    if (held === null || rows.length === 0) return
    hand.current = null
    const buttons =
      list.current?.querySelectorAll<HTMLButtonElement>(`[data-row="${CSS.escape(held.id)}"] button`) ?? []
    const ways = [...buttons].filter((button) => button.ariaLabel?.match(/^(Earlier|Later): /) && !button.disabled)
    const same = ways.find((button) => button.ariaLabel?.toLowerCase().startsWith(held.way))
    const next = same ?? ways[0]
    next?.focus()
  }, [rows])
  const move = (from: number, to: number, way: Way, id: string): void => {
    hand.current = { id, way }
    onMove(from, to)
  }
  const drop = (): void => {
    if (dragged !== null && over !== null && dragged !== over) onMove(dragged, over)
    setDragged(null)
    setOver(null)
  }
  return (
    <ol ref={list} className="ordered-rows" aria-label={label}>
      {rows.map((row, place) => (
        <li
          key={row.id}
          data-row={row.id}
          className="ordered-row"
          data-chosen={row.id === chosen || undefined}
          data-dragged={place === dragged || undefined}
          data-over={over === place && dragged !== null ? (dragged > place ? 'before' : 'after') : undefined}
          draggable
          onDragStart={(event) => {
            event.dataTransfer.effectAllowed = 'move'
            event.dataTransfer.setData('text/plain', row.name)
            setDragged(place)
          }}
          onDragOver={(event) => {
            if (dragged === null) return
            event.preventDefault()
            setOver(place)
          }}
          onDrop={(event) => {
            event.preventDefault()
            drop()
          }}
          onDragEnd={() => {
            setDragged(null)
            setOver(null)
          }}
        >
          <svg className="ordered-handle" viewBox="0 0 10 16" width="10" height="16" aria-hidden="true">
            <path d="M2 3h1M7 3h1M2 8h1M7 8h1M2 13h1M7 13h1" />
          </svg>
          <span className="ordered-place second">{place + 1}</span>
          <span className="ordered-name">
            {onChoose === null ? (
              <b>{row.name}</b>
            ) : (
              <button
                type="button"
                className="ordered-choose"
                aria-pressed={row.id === chosen}
                onClick={() => onChoose(row.id)}
              >
                <b>{row.name}</b>
              </button>
            )}{' '}
            {row.words}
          </span>
          <Button
            kind="quiet"
            isDisabled={place === 0}
            onPress={() => move(place, place - 1, 'earlier', row.id)}
            aria-label={`Earlier: ${row.name}`}
          >
            Earlier
          </Button>
          <Button
            kind="quiet"
            isDisabled={place === rows.length - 1}
            onPress={() => move(place, place + 1, 'later', row.id)}
            aria-label={`Later: ${row.name}`}
          >
            Later
          </Button>
        </li>
      ))}
    </ol>
  )
}
