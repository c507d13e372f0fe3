import { type ComponentType, lazy } from 'react'
import { fetchSheet } from './fetch-sheet.ts'
import { office } from './office-door.ts'

/** A sheet that is fetched when it is first visited. */
function visited(fetching: () => Promise<ComponentType>): ComponentType {
  return lazy(async () => ({ default: await fetchSheet(fetching, () => office.office.state()) }))
}

/**
 * Every screen, once: its address and where it is. To add one, write `renderer/<word>/XScreen.tsx` with a component `XScreen` without
 * props, and a line here; to put it on the tray line or among the ledgers, a line in `places.ts`. Screens are fetched when first visited.
 */
export const SCREENS: readonly { readonly address: `/${string}`; readonly Screen: ComponentType }[] = [
  { address: '/due', Screen: visited(async () => (await import('../due/DueScreen.tsx')).DueScreen) },
  {
    address: '/letters',
    Screen: visited(async () => (await import('../letters/LettersScreen.tsx')).LettersScreen),
  },
  {
    address: '/bookings',
    Screen: visited(async () => (await import('../bookings/BookingsScreen.tsx')).BookingsScreen),
  },
  { address: '/pull', Screen: visited(async () => (await import('../pull/PullScreen.tsx')).PullScreen) },
  {
    address: '/visits',
    Screen: visited(async () => (await import('../visits/VisitsScreen.tsx')).VisitsScreen),
  },
  {
    address: '/invoices',
    Screen: visited(async () => (await import('../invoices/InvoicesScreen.tsx')).InvoicesScreen),
  },
  {
    address: '/orders',
    Screen: visited(async () => (await import('../orders/OrdersScreen.tsx')).OrdersScreen),
  },
  {
    address: '/households',
    Screen: visited(async () => (await import('../households/HouseholdsScreen.tsx')).HouseholdsScreen),
  },
  {
    address: '/stock',
    Screen: visited(async () => (await import('../stock/StockScreen.tsx')).StockScreen),
  },
  {
    address: '/recall',
    Screen: visited(async () => (await import('../stock/RecallScreen.tsx')).RecallScreen),
  },
  {
    address: '/settings',
    Screen: visited(async () => (await import('../settings/SettingsScreen.tsx')).SettingsScreen),
  },
  {
    address: '/import',
    Screen: visited(async () => (await import('../imports/ImportScreen.tsx')).ImportScreen),
  },
]

/** Shown instead of everything until an office is in the books. */
export const FirstStart: ComponentType = visited(
  async () => (await import('../imports/FirstStartScreen.tsx')).FirstStartScreen,
)
