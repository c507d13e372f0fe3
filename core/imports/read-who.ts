import { type CustomerName, readPersonName } from '../customers/customer-names.ts'
import { plainWords } from './normal-forms.ts'

/** The cells that tell who a customer is, as they stand in the list. */
export interface NameCells {
  readonly name: string
  readonly firstName: string
  readonly lastName: string
  readonly company: string
  readonly contact: string
}

export interface ReadName {
  readonly name: CustomerName
  /** Who to ask for at a business, or beside the customer; empty when nobody is named. */
  readonly contact: string
}

/** Words that only a business, a school or an authority has in its name; common practice, no source. */
const BUSINESS_WORDS: ReadonlySet<string> = new Set(
  (
    'inc llc ltd limited corp corporation co company gmbh ag kg plc lp llp school college church chapel clinic dental dentist ' +
    'medical hospital hotel inn motel cafe coffee bakery restaurant grill diner bar bistro kitchen catering salon spa gym studio ' +
    'shop store market pharmacy office offices bank law partners associates group holdings services supply works brewery farm farms ' +
    'ranch dairy winery vineyard marina club lodge library museum county city town township village district authority department ' +
    'apartments condominiums properties rentals realty management nursery pottery laundry foundation society institute center centre'
  ).split(' '),
)

/** A number with letters around it, such as "Kettering Row, no. 4", is a place, not a person. */
export function looksLikeBusiness(name: string): boolean {
  return plainWords(name).some((word) => BUSINESS_WORDS.has(word)) || /\d/.test(name)
}

/** "Mr. and Mrs." in front of a name stays out of the books' name. */
const TITLES = /^(?:(?:mr|mrs|ms|miss|mx|dr|prof|rev)\.?(?:\s*(?:&|and)\s*)?\s+)+/i

/** The customer's name from whatever cells the list has; null when it has none. */
export function readName(cells: NameCells): ReadName | null {
  const person = personOf(cells)
  const company = cells.company.trim()
  if (company !== '') {
    const contact =
      cells.contact || cells.name || [cells.firstName, cells.lastName].filter((part) => part !== '').join(' ')
    return { name: { kind: 'business', name: company }, contact: contact === company ? '' : contact }
  }
  return person === null ? null : { name: person, contact: cells.contact }
}

function personOf({ name, firstName, lastName, contact }: NameCells): CustomerName | null {
  const given = firstName.replace(TITLES, '').trim()
  if (lastName !== '' || given !== '') {
    const family = lastName || name
    if (family === '') return { kind: 'person', given: '', family: given }
    return { kind: 'person', given, family }
  }
  const whole = name !== '' ? name : contact
  if (whole === '') return null
  if (looksLikeBusiness(whole)) return { kind: 'business', name: whole }
  return readPersonName(whole.replace(TITLES, ''))
}

/** Cells that mean "nothing here". */
const NOTHING = /^(?:-+|n\/?a|none|no|unknown|\?+|x+)$/i

/** Several telephones or e-mails in one cell are parted by strokes, commas, semicolons, line breaks or "or". */
function partsOfCell(cell: string): string[] {
  return cell
    .split(/\s*(?:[;,|\n]|\s\/\s|\/(?=\s*\(?\+?\d)|\bor\b|\band\b|&)\s*/i)
    .map((part) => part.trim())
    .filter((part) => part !== '' && !NOTHING.test(part))
}

export interface ReadParts {
  readonly good: readonly string[]
  readonly bad: readonly string[]
}

/** Telephones with at least seven digits are good; the words around them ("home", "after 5") stay with them. */
export function readPhones(cell: string): ReadParts {
  const parts = partsOfCell(cell)
  const isGood = (part: string): boolean => {
    const digits = part.replaceAll(/\D/g, '').length
    return digits >= 7 && digits <= 20
  }
  return { good: parts.filter(isGood), bad: parts.filter((part) => !isGood(part)) }
}

export function readEmails(cell: string): ReadParts {
  const parts = partsOfCell(cell).map((part) => part.replace(/^mailto:/i, '').replace(/^.*<(.+)>$/, '$1'))
  const isGood = (part: string): boolean => /^[^\s@]+@[^\s@]+\.[^\s@.]{2,}$/.test(part)
  return { good: parts.filter(isGood), bad: parts.filter((part) => !isGood(part)) }
}
