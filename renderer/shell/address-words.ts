/** What an address may carry beside the place: the record opened in the second sheet, and the screen's own words. */
export interface AddressWords {
  /** Key of the opened record: "41", or "visit-41" where a sheet opens several kinds. */
  readonly open?: string
  /** The screen's own: which tab of a ledger, which day. Kept as typed. */
  readonly [word: string]: string | undefined
}

/** Keeps only texts: an address is typed by hand, too. */
export function readAddressWords(search: Record<string, unknown>): AddressWords {
  return Object.fromEntries(
    Object.entries(search)
      .filter(([, value]) => typeof value === 'string' || typeof value === 'number')
      .map(([word, value]) => [word, String(value)]),
  )
}
