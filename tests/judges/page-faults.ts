/*
 * What a person would call broken on a page, judged in the page itself: given to `page.evaluate`, so each function stands alone.
 * Sizes are CSS pixels; half pixels of rounding are let pass.
 */

/** Sideways scrolling, text that is cut off with no way to read it, and what lies where nobody can scroll to. */
export function layoutFaults(): string[] {
  const faults: string[] = []
  const root = document.documentElement
  const named = (element: Element): string => {
    const words = (element.textContent ?? '').trim().replaceAll(/\s+/g, ' ').slice(0, 40)
    const kind = element.getAttribute('class') ?? ''
    return `<${element.tagName.toLowerCase()}${kind === '' ? '' : ` class="${kind}"`}> “${words}”`
  }
  const styleOf = (element: Element): CSSStyleDeclaration => getComputedStyle(element)
  const forEars = (element: Element): boolean => styleOf(element).clipPath !== 'none' || element.clientWidth <= 1
  const holdsText = (element: Element): boolean =>
    [...element.childNodes].some((node) => node.nodeType === Node.TEXT_NODE && node.textContent?.trim() !== '')
  const closest = (element: Element, fits: (each: Element) => boolean): Element | null => {
    for (let each: Element | null = element; each !== null; each = each.parentElement) if (fits(each)) return each
    return null
  }
  if (root.scrollWidth > root.clientWidth) faults.push(`the page is ${root.scrollWidth} wide in ${root.clientWidth}`)
  for (const element of document.body.querySelectorAll('*')) {
    if (!(element instanceof HTMLElement) || !element.checkVisibility()) continue
    if (!holdsText(element) && !element.matches('input, button')) continue
    if (closest(element, forEars)) continue
    const box = element.getBoundingClientRect()
    const cutter = closest(element, (each) => {
      const { overflowX, overflowY } = styleOf(each)
      const hides = (value: string): boolean => value === 'hidden' || value === 'clip'
      return (
        (hides(overflowX) && each.scrollWidth > each.clientWidth + 1) ||
        (hides(overflowY) && each.scrollHeight > each.clientHeight + 2)
      )
    })
    // A table says what it cuts off once the mouse is over it.
    if (cutter !== null) element.dispatchEvent(new MouseEvent('mouseover', { bubbles: true }))
    const words = element.textContent?.trim() ?? ''
    const readable = closest(element, (each) => words !== '' && (each.getAttribute('title') ?? '').includes(words))
    if (cutter !== null && readable === null && !element.matches('input')) faults.push(`cut off: ${named(element)}`)
    const scrolls = (axis: 'overflowX' | 'overflowY'): boolean =>
      closest(element, (each) => ['auto', 'scroll'].includes(styleOf(each)[axis])) !== null
    const beside = box.right > innerWidth + 1 || box.left < -1
    const below = box.bottom > innerHeight + 1 || box.top < -1
    if (beside && !scrolls('overflowX')) faults.push(`beside the window: ${named(element)}`)
    if (below && !scrolls('overflowY') && root.scrollHeight <= root.clientHeight)
      faults.push(`below the window: ${named(element)}`)
  }
  const heads = [...document.querySelectorAll('h1')].filter((head) => head.checkVisibility()).length
  if (heads !== 1) faults.push(`${heads} first headings`)
  return [...new Set(faults)]
}

/** Whatever can be pressed or typed into, but never gets the keyboard, or does not show that it has it. Press Tab once before. */
export async function keyboardFaults(): Promise<string[]> {
  const faults: string[] = []
  const look = (element: Element): string => {
    const { outlineStyle, outlineWidth, outlineColor, boxShadow, borderColor, backgroundColor } =
      getComputedStyle(element)
    return [
      outlineStyle === 'none' ? '' : `${outlineStyle} ${outlineWidth} ${outlineColor}`,
      boxShadow,
      borderColor,
      backgroundColor,
    ].join()
  }
  // A tick or a list draws the ring on what it stands in.
  const around = (element: Element): string =>
    [element, element.parentElement, element.closest('label'), ...element.querySelectorAll('*')]
      .filter((each) => each !== null)
      .map(look)
      .join(';')
  const frame = (): Promise<unknown> => new Promise((resolve) => requestAnimationFrame(resolve))
  const everything = [...document.querySelectorAll<HTMLElement>('a[href], button, input, select, textarea, [tabindex]')]
  if (document.activeElement instanceof HTMLElement) document.activeElement.blur()
  for (let wait = 0; wait < 2; wait += 1) await frame()
  const atRest = new Map(everything.map((element) => [element, around(element)]))
  for (const element of everything) {
    if (!element.isConnected || !element.checkVisibility() || element.matches(':disabled, [aria-hidden="true"] *'))
      continue
    const words = element.getAttribute('aria-label') ?? element.textContent ?? ''
    const name = `<${element.tagName.toLowerCase()} class="${element.className}"> “${words.trim().slice(0, 40)}”`
    if (element.tabIndex < 0) {
      const byArrows = element.closest('[role="grid"], [role="radiogroup"], [role="listbox"], [role="menu"], table')
      const isPressed = element.matches('a, button, input, select, textarea') && !element.matches('input[type="file"]')
      if (isPressed && byArrows === null) faults.push(`not by Tab: ${name}`)
      continue
    }
    element.focus()
    const isShown = (): boolean => around(element) !== atRest.get(element)
    for (let wait = 0; wait < 3 && !isShown(); wait += 1) await frame()
    if (document.activeElement !== element) faults.push(`does not take the keyboard: ${name}`)
    else if (!isShown()) faults.push(`no ring: ${name}`)
  }
  return [...new Set(faults)]
}
