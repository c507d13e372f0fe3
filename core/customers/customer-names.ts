/** A person's name in its parts, or a firm's. Parts may be empty but for one of them. */
export type CustomerName =
  | { readonly kind: 'person'; readonly given: string; readonly family: string }
  | { readonly kind: 'business'; readonly name: string }

/** A customer's names as the books keep them. */
export interface KeptNames {
  /** How lists are sorted and read: "Abernathy-Vance, Corinne". */
  readonly sortName: string
  /** On the envelope: "Corinne Abernathy-Vance". */
  readonly letterName: string
  /** How a letter begins, without the comma: "Dear Corinne Abernathy-Vance"; a firm has no first name: "To Ashgrove Dental". */
  readonly salutation: string
}

export function keptNamesOf(name: CustomerName): KeptNames {
  if (name.kind === 'business') {
    const plain = tidy(name.name)
    return { sortName: withoutArticle(plain), letterName: plain, salutation: `To ${plain}` }
  }
  const [given, family] = [tidy(name.given), tidy(name.family)]
  const letterName = [given, family].filter((part) => part !== '').join(' ')
  const sortName = family === '' ? given : given === '' ? family : `${family}, ${given}`
  return { sortName, letterName, salutation: `Dear ${letterName}` }
}

/** Little words that belong to the family name that follows them. */
const NAME_PARTICLES = new Set([
  'van',
  'von',
  'de',
  'der',
  'den',
  'del',
  'della',
  'di',
  'da',
  'la',
  'le',
  'ter',
  'ten',
  'zu',
  'bin',
  'al',
  'st.',
])

/**
 * Reads a person's name as lists have it: "Abernathy-Vance, Corinne", "Corinne Abernathy-Vance", "Ludo van der Meer".
 * Without a comma the last word, with the little words before it, is the family name. A single word is a family name.
 */
export function readPersonName(text: string): Extract<CustomerName, { kind: 'person' }> {
  const plain = tidy(text)
  const comma = plain.indexOf(',')
  if (comma >= 0) return { kind: 'person', family: tidy(plain.slice(0, comma)), given: tidy(plain.slice(comma + 1)) }
  const words = plain.split(' ')
  let first = words.length - 1
  while (first > 1 && NAME_PARTICLES.has((words[first - 1] ?? '').toLowerCase())) first -= 1
  return { kind: 'person', given: words.slice(0, first).join(' '), family: words.slice(first).join(' ') }
}

function tidy(text: string): string {
  return text.replace(/\s+/g, ' ').trim()
}

function withoutArticle(name: string): string {
  const match = /^(the)\s+(.+)$/i.exec(name)
  return match ? `${match[2]}, ${match[1]}` : name
}
