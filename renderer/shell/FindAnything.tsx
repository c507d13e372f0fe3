import { keepPreviousData, useQuery } from '@tanstack/react-query'
import { type KeyboardEvent, useDeferredValue, useId, useRef, useState } from 'react'
import type { Found } from '../../core/desk/desk-contract.ts'
import { SearchField } from '../design/SearchField.tsx'
import { ask } from './office-door.ts'
import { useGoTo } from './open-record.ts'

const WHERE: Readonly<Record<Found['kind'], string>> = {
  household: '/households',
  invoice: '/invoices',
  part: '/stock',
  order: '/orders',
}

/** The one search field: finds as one types, arrows choose, Enter opens. */
export function FindAnything() {
  const [typed, setTyped] = useState('')
  const [hand, setHand] = useState(0)
  const input = useRef<HTMLInputElement>(null)
  const asked = useDeferredValue(typed.trim())
  const goTo = useGoTo()
  const found = useQuery(
    ask.desk.find.queryOptions({
      input: { typed: asked },
      enabled: asked.length >= 2,
      placeholderData: keepPreviousData,
    }),
  )
  const results = asked.length >= 2 ? (found.data ?? null) : null
  const open = (result: Found): void => {
    goTo(WHERE[result.kind], String(result.id))
    setTyped('')
    input.current?.blur()
  }
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key === 'Escape') {
      event.preventDefault()
      setTyped('')
      if (typed === '') input.current?.blur()
    }
    if (!results || results.length === 0) return
    if (event.key === 'ArrowDown' || event.key === 'ArrowUp') {
      event.preventDefault()
      setHand((before) => (before + (event.key === 'ArrowDown' ? 1 : results.length - 1)) % results.length)
    }
  }
  return (
    <search className="find-anything">
      <SearchField
        label="Find anything"
        placeholder="Find anything"
        shortcut="/"
        value={typed}
        onChange={(next) => {
          setTyped(next)
          setHand(0)
        }}
        onSubmit={() => {
          const result = results?.[hand]
          if (result) open(result)
        }}
        onKeyDown={onKeyDown}
        inputRef={input}
      />
      {results && <FoundList results={results} hand={hand} typed={asked} onOpen={open} />}
    </search>
  )
}

interface FoundListProps {
  readonly results: readonly Found[]
  readonly hand: number
  readonly typed: string
  readonly onOpen: (result: Found) => void
}

function FoundList({ results, hand, typed, onOpen }: FoundListProps) {
  const id = useId()
  if (results.length === 0)
    return (
      <div className="found">
        <p className="found-none" role="status">
          Nothing holds “{typed}”. A part of a name, street, telephone number, invoice or part number is enough.
        </p>
      </div>
    )
  return (
    <div className="found">
      <p className="for-ears" role="status">
        {results.length} found; {results[hand]?.words ?? ''}
      </p>
      <ul className="menu">
        {results.map((result, index) => (
          <li key={`${result.kind}-${result.id}`} id={`${id}-${index}`}>
            <button
              type="button"
              tabIndex={-1}
              className="found-line"
              data-hand={index === hand || undefined}
              onClick={() => onOpen(result)}
            >
              <span className="two-lines">
                <span className="bold">{result.words}</span>
                <span>{result.below}</span>
              </span>
            </button>
          </li>
        ))}
      </ul>
    </div>
  )
}
