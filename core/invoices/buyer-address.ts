/** Where mail to a customer goes, as the books have it. */
export interface BuyerFacts {
  readonly letterName: string
  readonly line1: string
  readonly line2: string
  readonly town: string
  readonly region: string
  readonly postalCode: string
  /** Empty when it is the office's own country. */
  readonly country: string
}

/**
 * Name and address as an invoice keeps them, one line of the address a line. The town's line is in the order of the office's country:
 * "Tollard Mill XX 00142" in the United States, the postal code on a line of its own in Britain, ahead of the town in Germany.
 */
export function buyerAddress(buyer: BuyerFacts, locale: string): string {
  const { town, region, postalCode } = buyer
  const townLines =
    locale === 'de-DE'
      ? [words(postalCode, town)]
      : locale === 'en-GB'
        ? [words(town, region), postalCode]
        : [words(town, region, postalCode)]
  return [buyer.letterName, buyer.line1, buyer.line2, ...townLines, buyer.country]
    .map((line) => line.trim())
    .filter((line) => line !== '')
    .join('\n')
}

function words(...parts: readonly string[]): string {
  return parts.filter((part) => part !== '').join(' ')
}
