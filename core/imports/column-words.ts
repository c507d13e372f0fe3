import type { StageKind } from '../installations/stage-kinds.ts'
import type { ListField, StageFact } from './list-fields.ts'
import { plainLetters } from './normal-forms.ts'

/** How lists head their columns, in plain letters; common practice of spreadsheets, no source. German beside English. */
const FIELD_PHRASES: Readonly<Record<ListField, string>> = {
  reference:
    'customer number, customer no, customer id, cust id, cust no, account number, account no, account, acct, acct no, id, no, ref, reference, client id, household id, kundennummer, kunden nr, kundennr, kd nr, kdnr',
  name: 'name, full name, customer name, customer, household, household name, client, client name, account name, owner, owner name, homeowner, resident, kunde, cust name, who',
  'first-name': 'first name, first, given name, forename, fname, vorname',
  'last-name': 'last name, last, surname, family name, lname, nachname',
  company: 'company, company name, business, business name, organisation, organization, firm, firma',
  contact: 'contact, contact name, contact person, attention, attn, person to ask for, ansprechpartner',
  phone:
    'phone, telephone, tel, phone number, phone no, home phone, main phone, primary phone, telefon, phone 1, telephone number, ph, ph no, phones, tel no',
  'second-phone':
    'second phone, other phone, alternate phone, alt phone, work phone, cell, cell phone, mobile, mobile phone, mobil, handy, phone 2, telephone 2',
  email: 'email, e mail, email address, e mail address, emailadresse',
  street:
    'street, street address, address, address 1, address line 1, addr, addr 1, service address, site address, install address, location address, strasse, anschrift, adresse, house and street',
  'street-2': 'address 2, address line 2, addr 2, apt, apartment, unit number, suite, unit no, adresszusatz',
  town: 'town, city, place, city town, service city, municipality, village, ort, stadt',
  region: 'state, region, province, county, st, service state, bundesland',
  'postal-code': 'zip, zip code, zipcode, postal code, postcode, post code, postal, service zip, plz, postleitzahl',
  country: 'country, land',
  address: 'full address, whole address, complete address',
  'mail-street':
    'mailing address, billing address, mailing street, billing street, mail address, bill to address, postal address, billing address 1, mailing address 1',
  'mail-town': 'mailing city, billing city, mailing town, billing town, bill to city',
  'mail-region': 'mailing state, billing state, bill to state',
  'mail-postal-code':
    'mailing zip, billing zip, mailing postal code, billing postal code, mailing zip code, billing zip code, bill to zip',
  'no-mail': 'no mail, do not mail, dont mail, no letters, opt out, no post, unsubscribed, keine post, no mailings',
  'mail-welcome':
    'mail ok, mail welcome, ok to mail, send mail, mail allowed, reminders ok, send reminders, letters ok',
  people:
    'people, persons, occupants, household size, family size, people in house, number of people, residents, personen, in household, people in household, in house, no in house, no in household, no of people, family',
  hardness:
    'hardness, water hardness, feed hardness, gpg, grains, haerte, harte, wasserharte, hardness gpg, hardness mg l',
  tds: 'tds, feed tds, tds in, tds ppm, raw tds, source tds, tap tds, inlet tds',
  notes:
    'notes, note, comments, comment, remarks, remark, memo, special instructions, instructions, directions, bemerkung, bemerkungen, notiz',
  unit: 'unit, system, unit name, unit location, location, system name, equipment, installation, anlage, where',
  'installed-on':
    'installed, installed on, install date, installation date, date installed, unit installed, system installed, ro installed, ro install date, start date, eingebaut, in service since',
  'every-months':
    'service interval, service every, months between services, change every, service frequency, frequency, cycle, service plan months',
  'filters-changed-on':
    'filters changed, filters last changed, last filter change, last service, last service date, last serviced, last change, service date, last visit, filter change date, letzter wechsel, letzte wartung',
  stage: 'stage, filter, filter type, stage type, component, cartridge, element, filter stage, stufe, filter name',
  'stage-changed-on':
    'last changed, changed on, date changed, changed, change date, last replaced, replaced on, replaced, date, last changed on, stage changed, gewechselt, gewechselt am',
  'stage-due-on':
    'due, due date, next due, next change, due on, next service, next service date, next change due, faellig, fallig',
  'stage-months':
    'months, interval, interval months, life months, change interval, every months, life, monate, interval in months',
  'stage-part':
    'part, part number, part no, sku, item, item number, product code, article, article number, artikel, artikelnummer, item no, part nr',
  'stage-place': 'position, place in flow, stage number, stage no, sequence, order, stage position, pos',
  'stage-rank': 'which of its kind',
}

export const PHRASES_BY_FIELD: ReadonlyMap<ListField, readonly string[]> = new Map(
  Object.entries(FIELD_PHRASES).map(([field, phrases]) => [field as ListField, phrases.split(', ')]),
)

/** A column's name in plain words: "ZIP-Code*" is "zip code", "LastName" is "last name", "Acct #" is "acct no". */
export function columnWords(name: string): string {
  const apart = name
    .replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2')
    .replaceAll('#', ' no ')
    .replace(/['’]/g, '')
  return (plainLetters(apart).match(/[\p{L}\d]+/gu) ?? []).join(' ')
}

/** How well a column's name says a field, 0 to 1: the whole phrase, else a phrase within, better the more of the name it fills. */
export function nameSays(words: string, phrases: readonly string[]): number {
  let best = 0
  const length = words.split(' ').length
  for (const phrase of phrases) {
    if (words === phrase) return 1
    // "No" or "st" within a longer name says nothing: "Ph no" is no customer number.
    if (phrase.length <= 2 || !` ${words} `.includes(` ${phrase} `)) continue
    const share = phrase.split(' ').length / length
    const atEnd = words.endsWith(phrase) ? 0.05 : 0
    best = Math.max(best, 0.5 + 0.35 * share + atEnd)
  }
  return best
}

/** Words of a stage, the more special kinds first: "post carbon" must not be taken for a carbon filter. */
const STAGE_WORDS: readonly (readonly [StageKind, RegExp])[] = [
  ['post-carbon', /\b(?:post|polish\w*|final|nachfilter|taste|in ?line carbon|inline filter)\b/],
  ['remineraliser', /\b(?:re ?min\w*|minerals?|alkaline|calcite|ph booster)\b/],
  ['membrane', /\b(?:membran\w*|memb|osmosis)\b|\b\d+ ?gpd\b/],
  ['uv-lamp', /\b(?:uv|ultra ?violet|lamp|bulb)\b/],
  ['tank', /\b(?:tank|reservoir|bladder|sanitis\w*|sanitiz\w*)\b/],
  ['softener', /\b(?:softener|softening|resin|enthart\w*)\b/],
  [
    'sediment',
    /\b(?:sed|sediment\w*|pp|spun|particle|pleated|prefilter|pre filter|pre|vorfilter|\d+ ?(?:micron|um|µm))\b/,
  ],
  ['carbon', /\b(?:carbon|cto|gac|charcoal|aktivkohle\w*|kohle\w*|chlor\w*)\b/],
]

const ORDINALS: Readonly<Record<string, number>> = {
  '1st': 1,
  first: 1,
  '2nd': 2,
  second: 2,
  '3rd': 3,
  third: 3,
  '4th': 4,
  fourth: 4,
}

export interface NamedStage {
  readonly kind: StageKind
  /** Which of several of the kind, when the text says so: "Carbon 2", "second carbon". */
  readonly nth: number | null
}

/** The stage that a text names, in a cell or in a column's name; null when it names none. */
export function stageNamed(text: string): NamedStage | null {
  const words = columnWords(text)
  if (/^(?:ro|r o)$/.test(words)) return { kind: 'membrane', nth: null }
  // "Pre carbon" is a carbon filter ahead of the membrane; "carbon pre filter" too.
  const preCarbon = /\bpre\b/.test(words) && /\b(?:carbon|gac|cto)\b/.test(words)
  const kind = preCarbon ? 'carbon' : STAGE_WORDS.find(([, pattern]) => pattern.test(words))?.[0]
  if (kind === undefined) return null
  const ordinal = words.split(' ').find((word) => word in ORDINALS)
  const counted =
    /(?:carbon|cto|gac|block|sediment|sed|prefilter|filter|membrane|post|stage|no) ?([1-4])\b(?! ?(?:micron|um|gpd|in))/.exec(
      words,
    )
  const nth = ordinal !== undefined ? ORDINALS[ordinal] : counted ? Number(counted[1]) : null
  return { kind, nth: nth ?? null }
}

/** What a stage's own column tells, by the words of its name; null when the cells have to say. */
export function stageFactNamed(words: string): StageFact | 'nothing' | null {
  if (/\b(?:part|parts|pn|sku|item|article|product)\b/.test(words)) return 'part'
  if (/\b(?:due|next|faellig|fallig|na(?:e)?chste\w*)\b/.test(words)) return 'due-on'
  if (/\b(?:months?|interval|every|life|monate|cycle|mos?)\b/.test(words)) return 'months'
  if (
    /\b(?:changed?|replaced?|last|date|installed|fitted|chg|sanitis\w*|sanitiz\w*|gewechselt|wechsel|letzte\w*|new|on|serviced)\b/.test(
      words,
    )
  ) {
    return 'changed-on'
  }
  if (/\b(?:size|pressure|psi|gpd|gallons?|qty|quantity|price|cost|brand|type|tds|count)\b/.test(words))
    return 'nothing'
  return null
}
