import { type ComponentType, lazy } from 'react'

/**
 * Every screen, once: its address and where it is. To add one, write `renderer/<word>/XScreen.tsx` with a component `XScreen` without
 * props, and a line here; to put it on the tray line or among the ledgers, a line in `places.ts`. Screens are fetched when first visited.
 */
export const SCREENS: readonly { readonly address: `/${string}`; readonly Screen: ComponentType }[] = [
  { address: '/due', Screen: lazy(async () => ({ default: (await import('../due/DueScreen.tsx')).DueScreen })) },
  {
    address: '/letters',
    Screen: lazy(async () => ({ default: (await import('../letters/LettersScreen.tsx')).LettersScreen })),
  },
  {
    address: '/bookings',
    Screen: lazy(async () => ({ default: (await import('../bookings/BookingsScreen.tsx')).BookingsScreen })),
  },
  { address: '/pull', Screen: lazy(async () => ({ default: (await import('../pull/PullScreen.tsx')).PullScreen })) },
  {
    address: '/visits',
    Screen: lazy(async () => ({ default: (await import('../visits/VisitsScreen.tsx')).VisitsScreen })),
  },
  {
    address: '/invoices',
    Screen: lazy(async () => ({ default: (await import('../invoices/InvoicesScreen.tsx')).InvoicesScreen })),
  },
  {
    address: '/orders',
    Screen: lazy(async () => ({ default: (await import('../orders/OrdersScreen.tsx')).OrdersScreen })),
  },
  {
    address: '/households',
    Screen: lazy(async () => ({ default: (await import('../households/HouseholdsScreen.tsx')).HouseholdsScreen })),
  },
  {
    address: '/stock',
    Screen: lazy(async () => ({ default: (await import('../stock/StockScreen.tsx')).StockScreen })),
  },
  {
    address: '/settings',
    Screen: lazy(async () => ({ default: (await import('../settings/SettingsScreen.tsx')).SettingsScreen })),
  },
  {
    address: '/import',
    Screen: lazy(async () => ({ default: (await import('../imports/ImportScreen.tsx')).ImportScreen })),
  },
]

/** Shown instead of everything until an office is in the books. */
export const FirstStart: ComponentType = lazy(async () => ({
  default: (await import('../imports/FirstStartScreen.tsx')).FirstStartScreen,
}))
