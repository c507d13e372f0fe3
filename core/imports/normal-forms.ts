/**
 * Names, telephones and addresses brought to one form, so that two spellings of the same thing compare equal.
 * What is stored in the books stays as it was written; these forms are for comparing only.
 */

/** Small letters without accents, German sharp s as ss, ligatures undone. */
export function plainLetters(text: string): string {
  return text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replaceAll('ß', 'ss')
    .replaceAll('æ', 'ae')
    .replaceAll('ø', 'o')
    .toLowerCase()
}

/** The words of a text, plain: letters and digits only. */
export function plainWords(text: string): string[] {
  return (
    plainLetters(text)
      .replaceAll(/['’.]/g, '')
      .match(/[\p{L}\d]+/gu) ?? []
  )
}

/** The last ten digits, which a country's prefix and any writing leave alone; empty below seven digits. */
export function normalPhone(phone: string): string {
  const withoutExtension = phone.replace(/\b(?:x|ext|extension)\.?\s*\d+\s*$/i, '')
  const digits = withoutExtension.replaceAll(/\D/g, '')
  return digits.length < 7 ? '' : digits.slice(-10)
}

export function normalEmail(email: string): string {
  return email.trim().toLowerCase()
}

/** Five digits of a US code, letters and digits of any other, without blanks. */
export function normalPostalCode(code: string): string {
  const plain = code.toUpperCase().replaceAll(/[^A-Z\d]/g, '')
  return /^\d{9}$/.test(plain) ? plain.slice(0, 5) : plain
}

/** Street words and their usual short forms: USPS Publication 28, appendices B and C (from memory), and the German street. */
const STREET_WORDS: ReadonlyMap<string, string> = new Map(
  [
    'street st, strt st, avenue ave, av ave, road rd, lane ln, drive dr, court ct, boulevard blvd, place pl, terrace ter, circle cir',
    'highway hwy, parkway pkwy, square sq, trail trl, crescent cres, close cl, gardens gdns, heights hts, junction jct, mount mt',
    'mountain mtn, point pt, ridge rdg, north n, south s, east e, west w, northeast ne, northwest nw, southeast se, southwest sw',
    'apartment apt, flat apt, suite ste, unit apt, room rm, floor fl, building bldg, number no, strasse str, saint st',
  ]
    .flatMap((line) => line.split(', '))
    .map((pair): [string, string] => {
      const [long = '', short = ''] = pair.split(' ')
      return [long, short]
    }),
)

/** One form of a street line: `18 Weirside Lane, Apt. 2` and `18 WEIRSIDE LN #2` are both `18 weirside ln 2`. */
export function normalStreet(line: string): string {
  return plainWords(line.replaceAll('#', ' '))
    .map((word) =>
      /^\p{L}{3,}str$/u.test(word) ? `${word.slice(0, -3)} str` : word.replace(/(\p{L}{3,})strasse$/u, '$1 str'),
    )
    .map((word) => STREET_WORDS.get(word) ?? word)
    .filter((word) => word !== 'apt' && word !== 'no')
    .join(' ')
}

/** A street with its place: by postal code where there is one, else by town. Empty without a street. */
export function addressKey(street: string, town: string, postalCode: string): string {
  const line = normalStreet(street)
  if (line === '') return ''
  return `${line}|${normalPostalCode(postalCode) || plainWords(town).join(' ')}`
}

const NAME_NOISE: ReadonlySet<string> = new Set(
  (
    'mr mrs ms miss mx dr prof rev sir and the of family household residence und herr frau familie ' +
    'inc llc ltd co corp company gmbh plc lp llp jr sr'
  ).split(' '),
)

/** The words of a name that tell people apart, in alphabetical order: `Dr. Corinne Abernathy-Vance` is abernathy, corinne, vance. */
export function nameWords(name: string): string[] {
  const words = plainWords(name)
  const telling = words.filter((word) => !NAME_NOISE.has(word))
  return [...new Set(telling.length > 0 ? telling : words)].sort()
}

export function nameKey(name: string): string {
  return nameWords(name).join(' ')
}

/**
 * How alike two names are, 0 to 1: the share of the shorter name's words that the longer one has too, forgiving one wrong letter
 * in four or more and taking an initial for its name. A single common word in names of several is not enough to be alike.
 */
export function nameLikeness(a: readonly string[], b: readonly string[]): number {
  const [short, long] = a.length <= b.length ? [a, b] : [b, a]
  if (short.length === 0) return 0
  const left = [...long]
  let matched = 0
  let whole = 0
  for (const word of short) {
    const at = left.findIndex((other) => sameWord(word, other))
    if (at < 0) continue
    if (word.length > 1 && (left[at]?.length ?? 0) > 1) whole += 1
    left.splice(at, 1)
    matched += 1
  }
  if (whole === 0) return 0
  return (matched / short.length) * (long.length > short.length + 1 ? 0.8 : 1)
}

/** From here on two names count as the same, given that something else agrees too. */
export const NAMES_ALIKE = 0.75

function sameWord(a: string, b: string): boolean {
  if (a === b) return true
  if (a.length === 1 || b.length === 1) return a[0] === b[0]
  return Math.min(a.length, b.length) >= 4 && withinOneLetter(a, b)
}

/** Equal but for one letter changed, added, left out, or two neighbours swapped (Damerau's four slips of the pen). */
export function withinOneLetter(a: string, b: string): boolean {
  if (Math.abs(a.length - b.length) > 1) return false
  let at = 0
  while (at < a.length && at < b.length && a[at] === b[at]) at += 1
  if (a.length === b.length) {
    const swapped = a[at] === b[at + 1] && a[at + 1] === b[at] && a.slice(at + 2) === b.slice(at + 2)
    return swapped || a.slice(at + 1) === b.slice(at + 1)
  }
  return a.length > b.length ? a.slice(at + 1) === b.slice(at) : a.slice(at) === b.slice(at + 1)
}
