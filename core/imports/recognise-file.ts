export const TEXT_ENCODINGS = ['utf-8', 'utf-16le', 'utf-16be', 'windows-1252'] as const
export type TextEncoding = (typeof TEXT_ENCODINGS)[number]

/** In the office's words, for "read as ...". */
export const ENCODING_WORDS: Readonly<Record<TextEncoding, string>> = {
  'utf-8': 'Unicode (UTF-8)',
  'utf-16le': 'Unicode text (UTF-16)',
  'utf-16be': 'Unicode text (UTF-16)',
  'windows-1252': 'Western Windows (1252)',
}

/** A text in an encoding, or something that is no list at all, with what it is in words. */
export type RecognisedFile =
  | { readonly kind: 'text'; readonly encoding: TextEncoding; readonly markLength: number }
  | { readonly kind: 'empty' }
  | { readonly kind: 'other'; readonly what: string }

/** The first bytes of common formats that are not lists, as their own specifications give them (from memory). */
const SIGNATURES: readonly { readonly bytes: readonly number[]; readonly what: string }[] = [
  { bytes: [0x25, 0x50, 0x44, 0x46], what: 'a PDF' },
  { bytes: [0x50, 0x4b, 0x03, 0x04], what: 'a spreadsheet workbook or a packed folder' },
  { bytes: [0xd0, 0xcf, 0x11, 0xe0], what: 'an old spreadsheet workbook' },
  { bytes: [0x89, 0x50, 0x4e, 0x47], what: 'a picture' },
  { bytes: [0xff, 0xd8, 0xff], what: 'a photograph' },
  { bytes: [0x47, 0x49, 0x46, 0x38], what: 'a picture' },
  { bytes: [0x1f, 0x8b], what: 'a packed file' },
  { bytes: [0x7b, 0x5c, 0x72, 0x74, 0x66], what: 'a word-processor document' },
]

/**
 * Tells the encoding of a list from its bytes: the byte order mark first, then whether it is valid UTF-8; what is neither is taken
 * as Windows-1252, which gives every byte a letter. Knows by their first bytes the files that are no text.
 */
export function recogniseFile(bytes: Uint8Array): RecognisedFile {
  if (bytes.length === 0) return { kind: 'empty' }
  const marked = encodingByMark(bytes)
  if (marked !== null) return bytes.length === marked.markLength ? { kind: 'empty' } : { kind: 'text', ...marked }
  const signature = SIGNATURES.find((known) => known.bytes.every((byte, i) => bytes[i] === byte))
  if (signature) return { kind: 'other', what: signature.what }
  if (looksLikeWebPage(bytes)) return { kind: 'other', what: 'a web page' }
  const wide = wideWithoutMark(bytes)
  if (wide !== null) return { kind: 'text', encoding: wide, markLength: 0 }
  if (bytes.includes(0)) return { kind: 'other', what: 'not a text' }
  if (bytes.every((byte) => byte <= 0x20)) return { kind: 'empty' }
  return { kind: 'text', encoding: isUtf8(bytes) ? 'utf-8' : 'windows-1252', markLength: 0 }
}

function encodingByMark(bytes: Uint8Array): { encoding: TextEncoding; markLength: number } | null {
  if (bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf) return { encoding: 'utf-8', markLength: 3 }
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return { encoding: 'utf-16le', markLength: 2 }
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return { encoding: 'utf-16be', markLength: 2 }
  return null
}

function looksLikeWebPage(bytes: Uint8Array): boolean {
  const start = String.fromCharCode(...bytes.subarray(0, 200))
    .trimStart()
    .toLowerCase()
  return (
    start.startsWith('<!doctype') ||
    start.startsWith('<html') ||
    start.startsWith('<?xml') ||
    start.startsWith('<table')
  )
}

/** Western text in UTF-16 has a zero in nearly every second byte. */
function wideWithoutMark(bytes: Uint8Array): TextEncoding | null {
  const sample = bytes.subarray(0, 2000)
  let even = 0
  let odd = 0
  for (const [i, byte] of sample.entries()) {
    if (byte === 0) i % 2 === 0 ? even++ : odd++
  }
  const pairs = sample.length / 2
  if (odd > pairs * 0.6 && even < pairs * 0.1) return 'utf-16le'
  if (even > pairs * 0.6 && odd < pairs * 0.1) return 'utf-16be'
  return null
}

/** Whether the bytes are well-formed UTF-8 (RFC 3629: no overlong forms, no surrogates, nothing above U+10FFFF). */
export function isUtf8(bytes: Uint8Array): boolean {
  let at = 0
  while (at < bytes.length) {
    const first = bytes[at] ?? 0
    if (first < 0x80) {
      at += 1
      continue
    }
    const length = sequenceLength(first, bytes[at + 1] ?? 0)
    if (length === 0 || at + length > bytes.length) return false
    for (let i = 1; i < length; i++) if (((bytes[at + i] ?? 0) & 0xc0) !== 0x80) return false
    at += length
  }
  return true
}

function sequenceLength(first: number, second: number): number {
  if (first >= 0xc2 && first <= 0xdf) return 2
  if (first >= 0xe0 && first <= 0xef) {
    if (first === 0xe0 && second < 0xa0) return 0
    return first === 0xed && second > 0x9f ? 0 : 3
  }
  if (first >= 0xf0 && first <= 0xf4) {
    if (first === 0xf0 && second < 0x90) return 0
    return first === 0xf4 && second > 0x8f ? 0 : 4
  }
  return 0
}
