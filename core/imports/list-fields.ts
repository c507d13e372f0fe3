import { STAGE_KIND_WORDS, STAGE_KINDS, type StageKind } from '../installations/stage-kinds.ts'

/** What a column of a dealer's list may hold, apart from the stages spread over columns. */
export const LIST_FIELDS = [
  'reference',
  'name',
  'first-name',
  'last-name',
  'company',
  'contact',
  'phone',
  'second-phone',
  'email',
  'street',
  'street-2',
  'town',
  'region',
  'postal-code',
  'country',
  'address',
  'mail-street',
  'mail-town',
  'mail-region',
  'mail-postal-code',
  'no-mail',
  'mail-welcome',
  'people',
  'hardness',
  'tds',
  'notes',
  'unit',
  'installed-on',
  'every-months',
  'filters-changed-on',
  'stage',
  'stage-changed-on',
  'stage-due-on',
  'stage-months',
  'stage-part',
  'stage-place',
  'stage-rank',
] as const
export type ListField = (typeof LIST_FIELDS)[number]

/** What one of several stage columns in a row tells: "Sediment last changed" is sediment, changed-on. */
export const STAGE_FACTS = ['changed-on', 'due-on', 'months', 'part'] as const
export type StageFact = (typeof STAGE_FACTS)[number]

/** A stage that has columns of its own; `nth` tells two carbon filters apart. Written `carbon/2/changed-on`. */
export type StageColumn = `${StageKind}/${number}/${StageFact}`

/** What is done with a column: `ignore`, a field, or a stage's own column. */
export type ColumnUse = 'ignore' | ListField | StageColumn

export interface StageColumnParts {
  readonly kind: StageKind
  readonly nth: number
  readonly fact: StageFact
}

/** Most stages of one kind that a list may give columns to. */
export const MOST_OF_A_KIND = 4

export function stageColumn(kind: StageKind, nth: number, fact: StageFact): StageColumn {
  return `${kind}/${nth}/${fact}`
}

/** The parts of a stage column's use; null for `ignore` and for the fields. */
export function stageColumnParts(use: ColumnUse): StageColumnParts | null {
  const [kindText, nthText, factText] = use.split('/')
  const kind = STAGE_KINDS.find((known) => known === kindText)
  const fact = STAGE_FACTS.find((known) => known === factText)
  const nth = Number(nthText)
  return kind && fact && Number.isInteger(nth) && nth >= 1 && nth <= MOST_OF_A_KIND ? { kind, nth, fact } : null
}

export function isColumnUse(text: string): text is ColumnUse {
  return (
    text === 'ignore' || LIST_FIELDS.some((field) => field === text) || stageColumnParts(text as ColumnUse) !== null
  )
}

/** Notes may come from any number of columns; everything else from one. */
export function mayRepeat(use: ColumnUse): boolean {
  return use === 'ignore' || use === 'notes'
}

/** What a field is called on the screen, and in which group it is offered. */
export interface FieldWords {
  readonly group: 'Who' | 'Where' | 'Mail' | 'The water and the household' | 'The unit' | 'One stage a row'
  readonly label: string
}

export const FIELD_WORDS: Readonly<Record<ListField, FieldWords>> = {
  reference: { group: 'Who', label: 'Customer number' },
  name: { group: 'Who', label: 'Name' },
  'first-name': { group: 'Who', label: 'First name' },
  'last-name': { group: 'Who', label: 'Last name' },
  company: { group: 'Who', label: 'Business' },
  contact: { group: 'Who', label: 'Person to ask for' },
  phone: { group: 'Who', label: 'Telephone' },
  'second-phone': { group: 'Who', label: 'Second telephone' },
  email: { group: 'Who', label: 'E-mail' },
  street: { group: 'Where', label: 'Street' },
  'street-2': { group: 'Where', label: 'Second address line' },
  town: { group: 'Where', label: 'Town' },
  region: { group: 'Where', label: 'State' },
  'postal-code': { group: 'Where', label: 'Postal code' },
  country: { group: 'Where', label: 'Country' },
  address: { group: 'Where', label: 'Whole address in one cell' },
  'mail-street': { group: 'Mail', label: 'Mail goes to: street' },
  'mail-town': { group: 'Mail', label: 'Mail goes to: town' },
  'mail-region': { group: 'Mail', label: 'Mail goes to: state' },
  'mail-postal-code': { group: 'Mail', label: 'Mail goes to: postal code' },
  'no-mail': { group: 'Mail', label: 'Wants no mail' },
  'mail-welcome': { group: 'Mail', label: 'Mail is welcome' },
  people: { group: 'The water and the household', label: 'People in the house' },
  hardness: { group: 'The water and the household', label: 'Hardness of the feed' },
  tds: { group: 'The water and the household', label: 'TDS of the feed' },
  notes: { group: 'The water and the household', label: 'Keep in the note' },
  unit: { group: 'The unit', label: 'Which unit' },
  'installed-on': { group: 'The unit', label: 'Installed' },
  'every-months': { group: 'The unit', label: 'Months between services' },
  'filters-changed-on': { group: 'The unit', label: 'All filters changed' },
  stage: { group: 'One stage a row', label: 'Which stage' },
  'stage-changed-on': { group: 'One stage a row', label: 'Stage last changed' },
  'stage-due-on': { group: 'One stage a row', label: 'Stage next due' },
  'stage-months': { group: 'One stage a row', label: 'Months for the stage' },
  'stage-part': { group: 'One stage a row', label: 'Part number' },
  'stage-place': { group: 'One stage a row', label: 'Place in the flow' },
  'stage-rank': { group: 'One stage a row', label: 'Which of its kind' },
}

const FACT_WORDS: Readonly<Record<StageFact, string>> = {
  'changed-on': 'last changed',
  'due-on': 'next due',
  months: 'months',
  part: 'part number',
}

/** "Sediment: last changed", "Carbon 2: part number", "Tank: last sanitised". */
export function labelOfUse(use: ColumnUse): string {
  if (use === 'ignore') return 'Leave out'
  const parts = stageColumnParts(use)
  if (parts === null) return FIELD_WORDS[use as ListField].label
  const words = STAGE_KIND_WORDS[parts.kind]
  const fact = words.care === 'sanitise' && parts.fact === 'changed-on' ? 'last sanitised' : FACT_WORDS[parts.fact]
  return `${words.name}${parts.nth > 1 ? ` ${parts.nth}` : ''}: ${fact}`
}
