import type { MouseEvent } from 'react'

/**
 * Says in full what is cut off under the mouse. Given to a table as `onMouseOver`: what fits its place is not said twice, and a row
 * whose words have changed says the new ones.
 */
export function sayInFull({ target, currentTarget }: MouseEvent<HTMLElement>): void {
  let element = target instanceof HTMLElement ? target : null
  while (element !== null && element !== currentTarget) {
    const words = isCut(element) ? (element.textContent ?? '') : ''
    if (words !== element.title) element.title = words
    element = element.parentElement
  }
}

function isCut(element: HTMLElement): boolean {
  return element.scrollWidth > element.clientWidth + 1 && getComputedStyle(element).overflowX === 'hidden'
}
