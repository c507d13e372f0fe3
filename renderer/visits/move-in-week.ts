import type { KeyboardEvent } from 'react'

/** Arrows walk through the week: up and down within the column, left and right to the nearest button of the neighbouring one. */
export function moveInWeek(event: KeyboardEvent<HTMLTableElement>): void {
  const from = event.target instanceof HTMLElement ? event.target.closest<HTMLElement>('td, thead th') : null
  const row = from?.closest('tr')
  if (!from || !row || !(event.target instanceof HTMLElement)) return
  const column = [...row.children].indexOf(from)
  const buttonsOf = (at: number): HTMLElement[] =>
    [...event.currentTarget.querySelectorAll('tr')].flatMap((each) => [
      ...(each.children[at]?.querySelectorAll<HTMLElement>('button') ?? []),
    ])
  const next = nextOf(event.key, buttonsOf, column, event.target)
  if (!next) return
  event.preventDefault()
  next.focus()
}

function nextOf(
  key: string,
  buttonsOf: (column: number) => HTMLElement[],
  column: number,
  from: HTMLElement,
): HTMLElement | undefined {
  const own = buttonsOf(column)
  const at = own.indexOf(from)
  if (key === 'ArrowDown') return own[at + 1]
  if (key === 'ArrowUp') return own[at - 1]
  if (key !== 'ArrowRight' && key !== 'ArrowLeft') return undefined
  const beside = buttonsOf(column + (key === 'ArrowRight' ? 1 : -1))
  const height = from.getBoundingClientRect().top
  return beside.toSorted((a, b) => away(a, height) - away(b, height))[0]
}

const away = (button: HTMLElement, height: number): number => Math.abs(button.getBoundingClientRect().top - height)
