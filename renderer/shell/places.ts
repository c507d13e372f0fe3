import type { TrayName } from '../../core/desk/trays.ts'

/** A place of the program: its name on the tray line or among the ledgers, and its address. */
export interface Place {
  readonly name: string
  readonly address: `/${string}`
}

/** The trays, in the order the work runs. Alt+1 to Alt+7 lead here. */
export const TRAY_PLACES: readonly (Place & { readonly tray: TrayName })[] = [
  { tray: 'due', name: 'Due', address: '/due' },
  { tray: 'letters', name: 'Letters', address: '/letters' },
  { tray: 'bookings', name: 'Bookings', address: '/bookings' },
  { tray: 'pull', name: 'Pull', address: '/pull' },
  { tray: 'visits', name: 'Visits', address: '/visits' },
  { tray: 'invoices', name: 'Invoices', address: '/invoices' },
  { tray: 'orders', name: 'Orders', address: '/orders' },
]

export const LEDGER_PLACES: readonly Place[] = [
  { name: 'Households', address: '/households' },
  { name: 'Stock', address: '/stock' },
  { name: 'Settings', address: '/settings' },
]
