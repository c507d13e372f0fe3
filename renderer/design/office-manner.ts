import { createContext, useContext } from 'react'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import type { MeasureSystem } from '../../core/units/measures.ts'

/** How this office writes and measures, and what day it is there. Asked once from the office and handed to every component. */
export interface OfficeManner {
  readonly name: string
  readonly today: CalendarDate
  readonly locale: string
  readonly currency: string
  readonly measures: MeasureSystem
}

export const OfficeMannerContext = createContext<OfficeManner | null>(null)

/** The office's manner. A component outside the frame has none: that is a bug. */
export function useOffice(): OfficeManner {
  const manner = useContext(OfficeMannerContext)
  if (!manner) throw new Error('No office around this component')
  return manner
}
