import { createContext, useContext } from 'react'
import type { OfficeState } from '../../core/settings/office-contract.ts'

export const OfficeStateContext = createContext<OfficeState | null>(null)

/** The whole state of the office: address, every setting, today. For how to write dates and money, `useOffice` is enough. */
export function useOfficeState(): OfficeState {
  const state = useContext(OfficeStateContext)
  if (!state) throw new Error('No office around this component')
  return state
}
