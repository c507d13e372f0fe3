/** An address as the books keep it. */
export interface PostalAddress {
  /** Who it is for; a second name (care of, a department) may follow. */
  readonly names: readonly string[]
  readonly street: string
  /** Flat, suite, floor: "Apt 2". Empty for none. */
  readonly unit: string
  readonly town: string
  /** State or region; empty where the country writes none. */
  readonly region: string
  readonly postalCode: string
}

/** How the country's post wants it: USPS Publication 28, or DIN 5008. */
export type AddressManner = 'usps' | 'din-5008'

/** A delivery line of Publication 28 holds 64 characters at most (section 211, recommended); a window less. */
const LONGEST_DELIVERY_LINE = 34

/**
 * The lines of an address for a window envelope. USPS: capitals, no punctuation but the hyphen of a ZIP+4, the unit at the end
 * of the delivery line (above it when the line would be too long), two spaces before the ZIP (Publication 28, sections 212 to
 * 224). DIN 5008: as written, postal code before the town, no blank line.
 */
export function postalAddressLines(address: PostalAddress, manner: AddressManner): string[] {
  const lines = manner === 'usps' ? uspsLines(address) : dinLines(address)
  return lines.map((line) => line.trim()).filter((line) => line !== '')
}

function uspsLines({ names, street, unit, town, region, postalCode }: PostalAddress): string[] {
  const delivery = plain(`${street} ${unit}`)
  const streetLines = delivery.length > LONGEST_DELIVERY_LINE && unit !== '' ? [plain(unit), plain(street)] : [delivery]
  // No-break spaces: the two spaces before the ZIP are meant.
  const last = [plain(`${town} ${region}`), plain(postalCode)].filter((part) => part !== '').join('\u00a0\u00a0')
  return [...names.map(plain), ...streetLines, last]
}

function dinLines({ names, street, unit, town, region, postalCode }: PostalAddress): string[] {
  const place = [postalCode, town].filter((part) => part !== '').join(' ')
  return [...names, unit === '' ? street : `${street}, ${unit}`, region === '' ? place : `${place}, ${region}`]
}

/** Capitals; letters, figures, spaces, hyphens, slashes, the number sign and the ampersand stay, other punctuation goes. */
function plain(text: string): string {
  return text
    .normalize('NFC')
    .toUpperCase()
    .replace(/[^\p{L}\p{M}\p{N}\s\-/#&]/gu, '')
    .replace(/\s+/g, ' ')
    .trim()
}
