/** An address of a list, in its parts; any may be empty. */
export interface ListAddress {
  readonly line1: string
  readonly line2: string
  readonly town: string
  readonly region: string
  readonly postalCode: string
  readonly country: string
}

export const NO_PLACE: ListAddress = { line1: '', line2: '', town: '', region: '', postalCode: '', country: '' }

/** "Tollard Mill, XX 00142", "Tollard Mill XX 00142-1234": town, state and code in one cell. */
const TOWN_STATE_CODE = /^(.+?)[,\s]+([A-Z]{2})\.?[,\s]+(\d{5}(?:-\d{4})?)$/
/** "00142 Tollard Mill": code before the town, as much of Europe writes it. */
const CODE_TOWN = /^(\d{4,5})\s+(\p{L}.*)$/u
const CODE_AT_END = /^(.*?)[,\s]+(\d{5}(?:-\d{4})?)$/

/** Splits a whole address written in one cell, by commas or line breaks. What cannot be told apart stays in the first line. */
export function splitAddress(cell: string): ListAddress {
  const pieces = cell
    .split(/\s*(?:\r\n|\r|\n|,)\s*/)
    .map((piece) => piece.trim())
    .filter((piece) => piece !== '')
  const country =
    /^(?:usa|u\.s\.a\.|us|united states)$/i.test(pieces.at(-1) ?? '') && pieces.length > 1 ? (pieces.pop() ?? '') : ''
  const codeTown = CODE_TOWN.exec(pieces.at(-1) ?? '')
  if (codeTown && pieces.length > 1) {
    const street = streetLines(pieces.slice(0, -1))
    return { ...NO_PLACE, ...street, postalCode: codeTown[1] ?? '', town: codeTown[2] ?? '', country }
  }
  return { ...fromTheEnd(pieces), country }
}

function fromTheEnd(pieces: readonly string[]): ListAddress {
  const rest = [...pieces]
  const whole = TOWN_STATE_CODE.exec(rest.at(-1) ?? '')
  if (whole && rest.length > 1) {
    return {
      ...NO_PLACE,
      ...streetLines(rest.slice(0, -1)),
      town: whole[1] ?? '',
      region: whole[2] ?? '',
      postalCode: whole[3] ?? '',
    }
  }
  let postalCode = ''
  let region = ''
  const last = rest.at(-1) ?? ''
  const stateCode = /^([A-Z]{2})\.?\s+(\d{5}(?:-\d{4})?)$/.exec(last)
  const code = CODE_AT_END.exec(` ${last}`)
  if (rest.length > 1 && stateCode) {
    region = stateCode[1] ?? ''
    postalCode = stateCode[2] ?? ''
    rest.pop()
  } else if (rest.length > 1 && code) {
    postalCode = code[2] ?? ''
    const before = (code[1] ?? '').trim()
    rest.pop()
    if (before !== '') rest.push(before)
  }
  if (rest.length > 1 && region === '' && /^[A-Z]{2}$/.test(rest.at(-1) ?? '')) region = rest.pop() ?? ''
  const town = rest.length > 1 ? (rest.pop() ?? '') : ''
  return { ...NO_PLACE, ...streetLines(rest), town, region, postalCode }
}

function streetLines(pieces: readonly string[]): { line1: string; line2: string } {
  return { line1: pieces[0] ?? '', line2: pieces.slice(1).join(', ') }
}

/** A town cell that holds the state and the code too is taken apart; other cells of the row win over what is found there. */
export function settleTown(address: ListAddress): ListAddress {
  if (address.postalCode !== '' && address.region !== '') return address
  const whole = TOWN_STATE_CODE.exec(address.town)
  if (whole) {
    return {
      ...address,
      town: (whole[1] ?? '').replace(/,$/, ''),
      region: address.region || (whole[2] ?? ''),
      postalCode: address.postalCode || (whole[3] ?? ''),
    }
  }
  const codeTown = address.postalCode === '' ? CODE_TOWN.exec(address.town) : null
  if (codeTown) return { ...address, postalCode: codeTown[1] ?? '', town: codeTown[2] ?? '' }
  const townState = address.region === '' ? /^(.+),\s*([A-Z]{2})$/.exec(address.town) : null
  return townState ? { ...address, town: townState[1] ?? '', region: townState[2] ?? '' } : address
}

export interface ReadPostalCode {
  readonly code: string
  /** A spreadsheet had taken the code for a number and dropped the zeros in front. */
  readonly zerosRestored: boolean
  readonly fits: boolean
}

/**
 * A postal code as the office's country writes it. In the United States five digits, or nine as ZIP+4 (USPS Publication 28, from
 * memory); what a spreadsheet made of "00142" (142) gets its zeros back. Elsewhere the code is left as it is.
 */
export function readPostalCode(cell: string, unitedStates: boolean): ReadPostalCode {
  const text = cell.trim().replace(/\.0$/, '')
  if (!unitedStates || text === '') return { code: text, zerosRestored: false, fits: true }
  const digits = text.replaceAll(/[\s-]/g, '')
  if (!/^\d+$/.test(digits)) return { code: text, zerosRestored: false, fits: false }
  if (digits.length === 5) return { code: digits, zerosRestored: false, fits: true }
  if (digits.length < 5 && digits.length >= 3) return { code: digits.padStart(5, '0'), zerosRestored: true, fits: true }
  if (digits.length >= 7 && digits.length <= 9) {
    const nine = digits.padStart(9, '0')
    return { code: `${nine.slice(0, 5)}-${nine.slice(5)}`, zerosRestored: digits.length < 9, fits: true }
  }
  return { code: text, zerosRestored: false, fits: false }
}
