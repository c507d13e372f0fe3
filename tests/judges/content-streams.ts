import { inflateSync } from 'node:zlib'

/** A stream of drawing operators: of a page, or of a form that pages use. */
export interface ContentStream {
  readonly object: number
  readonly isPage: boolean
  readonly operators: string
}

/** Every content stream of a PDF whose objects stand open in the file, as pdfkit writes them. */
export function contentStreams(file: Uint8Array): ContentStream[] {
  const text = Buffer.from(file).toString('latin1')
  const ofPages = new Set([...text.matchAll(/\/Contents (\d+) 0 R/g)].map((found) => Number(found[1])))
  const streams: ContentStream[] = []
  for (const found of text.matchAll(/^(\d+) 0 obj\n(<<(?:(?!endobj)[\s\S])*?>>)\nstream\n/gm)) {
    const [whole, number = '', dictionary = ''] = found
    const object = Number(number)
    if (!ofPages.has(object) && !dictionary.includes('/Subtype /Form')) continue
    const begin = (found.index ?? 0) + whole.length
    const length = Number(/\/Length (\d+)/.exec(dictionary)?.[1] ?? 0)
    const bytes = Buffer.from(text.slice(begin, begin + length), 'latin1')
    const plain = dictionary.includes('/FlateDecode') ? inflateSync(bytes) : bytes
    streams.push({ object, isPage: ofPages.has(object), operators: plain.toString('latin1') })
  }
  return streams
}

/** Strings in both ways of writing, names, comments, and everything else between delimiters (ISO 32000-1, 7.2 and 7.3). */
const TOKEN =
  /\((?:\\[\s\S]|[^\\()])*\)|<<|>>|<[0-9A-Fa-f\s]*>|\/[^\s()<>[\]{}/%]*|%[^\r\n]*|[[\]{}]|[^\s()<>[\]{}/%]+/g
const OPENS: Readonly<Record<string, string>> = { q: 'q', BT: 'BT', BMC: 'marked', BDC: 'marked' }
const CLOSES: Readonly<Record<string, string>> = { Q: 'q', ET: 'BT', EMC: 'marked' }
/** Operators that put something on the page. */
const PAINTS = new Set(['Tj', 'TJ', "'", '"', 'S', 's', 'f', 'F', 'f*', 'B', 'B*', 'b', 'b*', 'Do', 'sh'])

/**
 * What is wrong with the nesting of a content stream. Graphics state, text objects and marked content are closed in the stream that
 * opened them, the last opened first (ISO 32000-1: 8.4.2, 9.4.1, 14.6.1); on a page everything painted is marked, as content or as
 * an artifact (14.8.2.2), and a marked piece has a number of its own. Empty when all is well.
 */
export function nestingFaults({ object, isPage, operators }: ContentStream): string[] {
  const faults: string[] = []
  const open: string[] = []
  const numbers = new Set<string>()
  for (const [token] of operators.matchAll(TOKEN)) {
    if (OPENS[token] !== undefined) {
      if (open.includes(OPENS[token]) && OPENS[token] !== 'q')
        faults.push(`${object}: ${token} within ${open.join(' ')}`)
      open.push(OPENS[token])
    } else if (CLOSES[token] !== undefined) {
      const last = open.pop()
      if (last !== CLOSES[token]) faults.push(`${object}: ${token} closes ${last ?? 'nothing'}`)
    } else if (isPage && PAINTS.has(token) && !open.includes('marked')) faults.push(`${object}: ${token} is not marked`)
  }
  for (const [, number = ''] of operators.matchAll(/\/MCID (\d+)/g)) {
    if (numbers.has(number)) faults.push(`${object}: two pieces are number ${number}`)
    numbers.add(number)
  }
  if (open.length > 0) faults.push(`${object}: ends within ${open.join(' ')}`)
  return faults
}
