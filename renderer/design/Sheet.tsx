import { createContext, type ReactNode, useContext, useEffect, useRef, useSyncExternalStore } from 'react'
import { Button } from './Button.tsx'
import './sheet.css'

/** Whether a part lies on the second sheet: its heading is then one step lower. */
const OnSecondSheet = createContext(false)

interface SheetsProps {
  /** The one sheet. */
  readonly children: ReactNode
  /** What belongs to the chosen row, beside it; null while nothing is chosen. Below 1180 px it takes the first one's place. */
  readonly second?: ReactNode | null
}

/** The desk below the tray line: one sheet, and what belongs to the chosen row as a second one beside it, never over it. */
export function Sheets({ children, second = null }: SheetsProps) {
  return (
    <div className="sheets">
      {children}
      {second}
    </div>
  )
}

interface SheetProps {
  /** What lies here: "42 households are due within 4 weeks". */
  readonly title: ReactNode
  /** Right of the title: "2 late". */
  readonly aside?: ReactNode
  /** The line of choices and buttons below the title. */
  readonly choices?: ReactNode
  readonly actions?: ReactNode
  readonly children: ReactNode
}

/** A sheet: title, a line with what to look at and what to do, and the work. */
export function Sheet({ title, aside, choices, actions, children }: SheetProps) {
  return (
    <section className="sheet">
      <header className="sheet-head">
        <h1>{title}</h1>
        {aside !== undefined && <div className="sheet-aside second">{aside}</div>}
      </header>
      {(choices !== undefined || actions !== undefined) && (
        <div className="sheet-line">
          <div>{choices}</div>
          <div className="sheet-actions">{actions}</div>
        </div>
      )}
      {children}
    </section>
  )
}

interface SecondSheetProps {
  readonly title: ReactNode
  /** Below the title, quiet: the address, the telephone. */
  readonly below?: ReactNode
  /** The way back to the list; Escape goes there too. */
  readonly onClose: () => void
  /** Where the way back leads: "the list of what is due". */
  readonly backTo: string
  readonly children: ReactNode
}

/** Below this width there is room for one sheet; sheet.css says the same. */
const NARROW = '(max-width: 1179px)'
const isNarrow = (): boolean => window.matchMedia(NARROW).matches

function onWidth(changed: () => void): () => void {
  const narrow = window.matchMedia(NARROW)
  narrow.addEventListener('change', changed)
  return () => narrow.removeEventListener('change', changed)
}

/** Whether the window has room for one sheet only. */
export const useTakesOver = (): boolean => useSyncExternalStore(onWidth, isNarrow)

/** What belongs to the chosen row. Takes the first sheet's place below 1180 px, with a way back. */
export function SecondSheet({ title, below, onClose, backTo, children }: SecondSheetProps) {
  const place = useRef<HTMLElement>(null)
  const takesOver = useTakesOver()
  // Alone in the window, it is what the page is about.
  const Heading = takesOver ? 'h1' : 'h2'
  useEffect(() => {
    if (isNarrow()) place.current?.focus()
  }, [])
  return (
    <section
      ref={place}
      className="sheet second-sheet"
      tabIndex={-1}
      aria-label={typeof title === 'string' ? title : undefined}
    >
      <div className="second-sheet-back">
        <Button kind="quiet" onPress={onClose}>
          Back to {backTo}
        </Button>
      </div>
      <header className="sheet-head">
        <Heading className="as-head">{title}</Heading>
        <button type="button" className="second-sheet-close" onClick={onClose} aria-label={`Back to ${backTo}`}>
          <svg viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">
            <path d="M3 3 L13 13 M13 3 L3 13" />
          </svg>
        </button>
      </header>
      {below !== undefined && <div className="second sheet-below">{below}</div>}
      <OnSecondSheet.Provider value={!takesOver}>{children}</OnSecondSheet.Provider>
    </section>
  )
}

/** A part of a sheet under its own heading and hairline. */
export function SheetPart({
  title,
  aside,
  children,
}: {
  readonly title: ReactNode
  readonly aside?: ReactNode
  readonly children: ReactNode
}) {
  const Heading = useContext(OnSecondSheet) ? 'h3' : 'h2'
  return (
    <section className="sheet-part">
      <header className="sheet-part-head">
        <Heading>{title}</Heading>
        {aside !== undefined && <div className="second small">{aside}</div>}
      </header>
      {children}
    </section>
  )
}
