import { foldText } from '../customers/fold-text.ts'

export interface PostalPlace {
  readonly postalCode: string
  readonly town: string
  readonly street: string
}

/**
 * The order in which the post is walked: postal code, town, street, house number as a number (7 before 18). For `sort`; places that
 * are the same compare as 0, so the order given stays.
 */
export function comparePostal(a: PostalPlace, b: PostalPlace): number {
  return compareKeys(keyOf(a), keyOf(b))
}

/** The same order for many, each looked at once. */
export function inPostalOrder<T>(items: readonly T[], placeOf: (item: T) => PostalPlace): T[] {
  return items
    .map((item) => ({ item, key: keyOf(placeOf(item)) }))
    .sort((a, b) => compareKeys(a.key, b.key))
    .map(({ item }) => item)
}

type PostalKey = ReturnType<typeof keyOf>

function compareKeys(left: PostalKey, right: PostalKey): number {
  return (
    compareTexts(left.code, right.code) ||
    compareTexts(left.town, right.town) ||
    compareTexts(left.street, right.street) ||
    left.number - right.number ||
    compareTexts(left.rest, right.rest)
  )
}

function keyOf({ postalCode, town, street }: PostalPlace) {
  const plain = foldText(street)
  // "18 Weirside Lane" and "Weirside Lane 18": the first number is the house's.
  const number = /\d+/.exec(plain)?.[0] ?? ''
  const name = plain
    .replace(/\d+\S*/g, ' ')
    .replace(/\s+/g, ' ')
    .trim()
  return { code: foldText(postalCode), town: foldText(town), street: name, number: Number(number), rest: plain }
}

const compareTexts = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0)
