/** The trays in the order the work runs. */
export const TRAYS = ['due', 'letters', 'bookings', 'pull', 'visits', 'invoices', 'orders'] as const
export type TrayName = (typeof TRAYS)[number]

/** A tray as the tray line shows it. */
export interface Tray {
  readonly tray: TrayName
  readonly count: number
  /** The count's meaning and its oldest piece, short: "3 weeks late at most". */
  readonly words: string
}
