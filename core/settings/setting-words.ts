import type { SettingName } from './office-settings.ts'

/** How a setting is typed, and in which unit it is shown. */
export type SettingKind =
  | { readonly kind: 'choice'; readonly choices: readonly { readonly id: string; readonly words: string }[] }
  | { readonly kind: 'number'; readonly unit: string; readonly digits?: number }
  | { readonly kind: 'money' }
  | { readonly kind: 'rate' }
  | { readonly kind: 'time' }
  | { readonly kind: 'volume' }
  | { readonly kind: 'hardness' }
  | { readonly kind: 'workdays' }
  | { readonly kind: 'text'; readonly lines?: number }

export interface SettingWords {
  readonly name: SettingName
  readonly label: string
  /** What it does, in one sentence. */
  readonly does: string
  readonly typed: SettingKind
}

/** A page of the settings, in the office's words. */
export const SETTING_GROUPS = ['office', 'due', 'letters', 'visits', 'money', 'stock'] as const
export type SettingGroup = (typeof SETTING_GROUPS)[number]

const days: SettingKind = { kind: 'number', unit: 'days' }
const weeks: SettingKind = { kind: 'number', unit: 'weeks' }
const minutes: SettingKind = { kind: 'number', unit: 'minutes' }
const percent: SettingKind = { kind: 'number', unit: '%', digits: 1 }
const points: SettingKind = { kind: 'number', unit: 'points' }
const people: SettingKind = { kind: 'number', unit: 'people' }

export const SETTING_WORDS: Readonly<Record<SettingGroup, readonly SettingWords[]>> = {
  office: [
    {
      name: 'locale',
      label: 'Dates and figures',
      does: 'How dates, figures and addresses are written, on screen and on paper.',
      typed: {
        kind: 'choice',
        choices: [
          { id: 'en-US', words: 'United States: Nov 9, 2026 and 1,480.50' },
          { id: 'en-GB', words: 'Britain: 9 Nov 2026 and 1,480.50' },
          { id: 'de-DE', words: 'Germany: 09.11.2026 and 1.480,50' },
        ],
      },
    },
    {
      name: 'currency',
      label: 'Currency',
      does: 'The three letters of the currency of new invoices, such as USD or EUR.',
      typed: { kind: 'text' },
    },
    {
      name: 'measures',
      label: 'Measures',
      does: 'What readings are typed and shown in; the books keep them exactly, whichever is chosen.',
      typed: {
        kind: 'choice',
        choices: [
          { id: 'us', words: 'Gallons, grains, psi, °F' },
          { id: 'metric', words: 'Litres, mg/L, bar, °C' },
        ],
      },
    },
    {
      name: 'pageSize',
      label: 'Paper',
      does: 'The size of every page that is printed.',
      typed: {
        kind: 'choice',
        choices: [
          { id: 'letter', words: 'US Letter' },
          { id: 'a4', words: 'A4' },
        ],
      },
    },
    {
      name: 'windowEnvelope',
      label: 'Window envelope',
      does: 'Where the address stands on letters and invoices, so that the window shows it.',
      typed: {
        kind: 'choice',
        choices: [
          { id: 'us-10', words: 'US #10' },
          { id: 'din-5008-b', words: 'DIN 5008, form B' },
        ],
      },
    },
    {
      name: 'personAtDesk',
      label: 'Who writes',
      does: 'Who letters are signed by, and who the books say has done something.',
      typed: { kind: 'text' },
    },
  ],
  due: [
    {
      name: 'smallHouseholdPeople',
      label: 'A small household',
      does: 'Up to this many people, filters last their longest interval.',
      typed: people,
    },
    {
      name: 'largeHouseholdPeople',
      label: 'A large household',
      does: 'From this many people on, filters last their shortest interval.',
      typed: people,
    },
    {
      name: 'usualPeople',
      label: 'A usual household',
      does: 'Taken where nobody wrote down how many live there.',
      typed: people,
    },
    {
      name: 'usualHardness',
      label: 'Usual hardness',
      does: 'Taken where the hardness of the feed water is not known.',
      typed: { kind: 'hardness' },
    },
    {
      name: 'dailyMillilitresPerPerson',
      label: 'Use a day',
      does: 'What one person draws a day, for parts that are rated by volume.',
      typed: { kind: 'volume' },
    },
    {
      name: 'recoveryPercent',
      label: 'Recovery',
      does: 'The share of the feed that becomes drinking water; the stages ahead of the membrane see the rest as well.',
      typed: percent,
    },
    {
      name: 'sanitiseMonths',
      label: 'Sanitising the tank',
      does: 'How often a tank is sanitised when nothing else is set.',
      typed: { kind: 'number', unit: 'months' },
    },
    {
      name: 'healthyRejectionPercent',
      label: 'A healthy membrane',
      does: 'From this share of the dissolved solids held back, a reading is called healthy.',
      typed: percent,
    },
    {
      name: 'replaceRejectionPercent',
      label: 'Time to replace it',
      does: 'At this share held back, or less, a reading says that it is time for a new membrane.',
      typed: percent,
    },
    {
      name: 'overdueRejectionPercent',
      label: 'An overdue membrane',
      does: 'At this share held back, or less, a reading calls the membrane overdue.',
      typed: percent,
    },
    {
      name: 'meterFactor',
      label: 'Solids from conductivity',
      does: 'What a reading in µS/cm is multiplied by: as your meters are set, 0.5 on most, 0.64 or 0.7 on some.',
      typed: { kind: 'number', unit: 'times', digits: 2 },
    },
    {
      name: 'flowFallPercent',
      label: 'A fall of the flow',
      does: 'When a membrane gives so much less than at first, put to the same pressure and warmth, it is pointed out.',
      typed: percent,
    },
    {
      name: 'readingSpeaksMonths',
      label: 'A good reading speaks for',
      does: 'How long a membrane that holds is left alone after its last reading, whatever the calendar says.',
      typed: { kind: 'number', unit: 'months' },
    },
    {
      name: 'widestBandDays',
      label: 'A trend one can act on',
      does: 'When the earliest and the latest day of a trend lie further apart, the readings do not set the date.',
      typed: days,
    },
    {
      name: 'graceDays',
      label: 'Grace',
      does: 'How long past its date a stage may wait for a visit that is worth the drive.',
      typed: days,
    },
  ],
  letters: [
    {
      name: 'firstLetterLeadDays',
      label: 'First letter',
      does: 'How long before the due date the first letter is owed.',
      typed: days,
    },
    {
      name: 'secondLetterAfterDays',
      label: 'Second letter',
      does: 'How long after the first one without an answer.',
      typed: days,
    },
    {
      name: 'finalLetterAfterDays',
      label: 'Final letter',
      does: 'How long after the first one without an answer.',
      typed: days,
    },
  ],
  visits: [
    {
      name: 'dayStartsAt',
      label: 'The day begins',
      does: 'When the first van leaves, for a technician without hours of their own.',
      typed: { kind: 'time' },
    },
    { name: 'dayEndsAt', label: 'The day ends', does: 'When the last van is back.', typed: { kind: 'time' } },
    { name: 'workdays', label: 'Workdays', does: 'The days on which visits are offered.', typed: { kind: 'workdays' } },
    {
      name: 'daysOffered',
      label: 'Days offered',
      does: 'How far ahead free days are looked for while somebody books.',
      typed: days,
    },
    {
      name: 'arrivalWindowMinutes',
      label: 'Arrival window',
      does: 'How long a window a household is promised.',
      typed: minutes,
    },
    {
      name: 'callMinutes',
      label: 'At the door',
      does: 'Greeting, looking, testing and leaving, whatever is changed.',
      typed: minutes,
    },
    {
      name: 'stageMinutes',
      label: 'A stage',
      does: 'Changing one stage, when its part has no time of its own.',
      typed: minutes,
    },
    { name: 'sanitiseMinutes', label: 'Sanitising', does: 'Sanitising a tank and its lines.', typed: minutes },
    {
      name: 'driveMinutesPerVisit',
      label: 'The drive',
      does: 'Counted for each visit until its route is known.',
      typed: minutes,
    },
    {
      name: 'planHorizonYears',
      label: 'Visits are planned',
      does: 'How far ahead the visits of a household are weighed against one another.',
      typed: { kind: 'number', unit: 'years' },
    },
    {
      name: 'earlyMembrane',
      label: 'A membrane before its date',
      does: 'Whether a visit may change a membrane that is not due yet; a household can have it otherwise.',
      typed: {
        kind: 'choice',
        choices: [
          { id: 'when-it-pays', words: 'When it saves a call' },
          { id: 'never', words: 'Never' },
        ],
      },
    },
    {
      name: 'avoidedMonths',
      label: 'Months to keep free',
      does: 'Months that the plan keeps visits out of where that can be, as numbers: 12,1 for December and January; none when empty.',
      typed: { kind: 'text' },
    },
    {
      name: 'circuity',
      label: 'Road for straight line',
      does: 'How much longer the road is than the line on the map.',
      typed: { kind: 'number', unit: 'times', digits: 2 },
    },
    {
      name: 'drivingKmPerHour',
      label: 'Driving speed',
      does: 'Counted for the drives of a route.',
      typed: { kind: 'number', unit: 'km/h', digits: 1 },
    },
  ],
  money: [
    {
      name: 'callCostCents',
      label: 'A call costs you',
      does: 'Before a part is changed: the drive and the time at the door. What the plan of visits saves is weighed against it.',
      typed: { kind: 'money' },
    },
    {
      name: 'hourCostCents',
      label: 'An hour of work costs you',
      does: 'Counted by the minute for every stage that a planned visit sees to.',
      typed: { kind: 'money' },
    },
    {
      name: 'callOutCents',
      label: 'The call',
      does: 'Charged for every visit that was done, unless it is marked free.',
      typed: { kind: 'money' },
    },
    {
      name: 'labourCentsPerHour',
      label: 'Labour, an hour',
      does: 'Charged by the minute of the work; nothing when it is in the price of the parts.',
      typed: { kind: 'money' },
    },
    {
      name: 'taxRate',
      label: 'Tax',
      does: 'On every line of new drafts, but for exempt customers and parts that are free of tax. Ask your tax adviser which rate is yours.',
      typed: { kind: 'rate' },
    },
    {
      name: 'paymentTermsDays',
      label: 'Time to pay',
      does: 'From the day of issue, for a customer without terms of their own.',
      typed: days,
    },
    {
      name: 'taxNumber',
      label: 'Tax number',
      does: 'Stands on every invoice; left out when empty.',
      typed: { kind: 'text' },
    },
    {
      name: 'howToPay',
      label: 'How to pay',
      does: 'Stands at the foot of every invoice and statement.',
      typed: { kind: 'text', lines: 3 },
    },
  ],
  stock: [
    {
      name: 'paceDays',
      label: 'The pace of use',
      does: 'How far back one looks for how much is used of what has no due date of its own.',
      typed: days,
    },
    {
      name: 'reviewPeriodDays',
      label: 'Orders are looked at',
      does: 'How often you go through what to order.',
      typed: days,
    },
    {
      name: 'leadTimeDays',
      label: 'Delivery takes',
      does: 'Counted for a supplier without a time of their own.',
      typed: days,
    },
    {
      name: 'countWeeksMuch',
      label: 'Counted, what is used much',
      does: 'The parts that make up four fifths of what you use in a year, at their cost, are counted this often.',
      typed: weeks,
    },
    {
      name: 'countWeeksSome',
      label: 'Counted, what is used some',
      does: 'The parts that make up the next 15 % of what you use are counted this often.',
      typed: weeks,
    },
    {
      name: 'countWeeksLittle',
      label: 'Counted, what is used little',
      does: 'All other parts are counted this often.',
      typed: weeks,
    },
    {
      name: 'countBusyFrom',
      label: 'Moved often',
      does: 'A lot in a bin or a van that moved so many times in 13 weeks is counted like the next more used ones.',
      typed: { kind: 'number', unit: 'movements' },
    },
    {
      name: 'countHeapsAWeek',
      label: 'Counted in a week',
      does: 'How many lots in their bins and vans can be counted in a week; what a pull missed is counted whatever this says.',
      typed: { kind: 'number', unit: 'lots' },
    },
    {
      name: 'shortVisitPoints',
      label: 'When a part is short, a visit counts',
      does: 'For serving a household at all. The visits that add up to the most points get the pieces: as usual, one household 30 days late, at 400 points, goes before three that are on time.',
      typed: points,
    },
    {
      name: 'shortDayLatePoints',
      label: 'When a part is short, a day late counts',
      does: 'Added for each day that the latest stage of the visit is past its date: as usual, 10 days late count as much as one more visit.',
      typed: points,
    },
    {
      name: 'shortMostDaysLate',
      label: 'When a part is short, days late count up to',
      does: 'Days beyond this add nothing, so that a household forgotten for a year does not take the pieces of ten others.',
      typed: days,
    },
    {
      name: 'shortOurWordPoints',
      label: 'When a part is short, our word counts',
      does: 'Added where the household was promised its visit: as usual, our word outweighs 29 days late, and 30 days are as much.',
      typed: points,
    },
    {
      name: 'shortDrivenMinutePoints',
      label: 'When a part is short, a driven minute counts',
      does: 'Added for each minute at the wheel that coming a second time would take: as usual, a second trip of 50 minutes counts as much as one more visit.',
      typed: points,
    },
    {
      name: 'serviceLevelPercent',
      label: 'In stock when needed',
      does: 'How often a part should be there when its day comes.',
      typed: percent,
    },
    {
      name: 'labelShiftRightMm',
      label: 'Labels, to the right',
      does: 'Where your printer strays to the left on a sheet of labels, everything is printed so much further right.',
      typed: { kind: 'number', unit: 'mm', digits: 1 },
    },
    {
      name: 'labelShiftDownMm',
      label: 'Labels, down',
      does: 'Where your printer strays upwards on a sheet of labels, everything is printed so much further down.',
      typed: { kind: 'number', unit: 'mm', digits: 1 },
    },
    {
      name: 'letterToVisitPercent',
      label: 'Letters that lead to a visit',
      does: 'Of a hundred first letters so many lead to a visit, as you expect it; your own record takes over as it grows.',
      typed: percent,
    },
    {
      name: 'letterFigureWeighs',
      label: 'That figure weighs as much as',
      does: 'So many letters of your own record: the more, the longer it takes until the record has its way.',
      typed: { kind: 'number', unit: 'letters' },
    },
    {
      name: 'orderCostCents',
      label: 'Placing an order costs',
      does: 'Your time for writing, receiving and paying it; parts without due dates are ordered less often when it is much.',
      typed: { kind: 'money' },
    },
    {
      name: 'holdingPercent',
      label: 'Keeping a piece for a year costs',
      does: 'Of its price: money tied up, room, what spoils. Weighed against lower prices for larger orders.',
      typed: percent,
    },
  ],
}

export function wordsOfSetting(name: SettingName): SettingWords {
  const found = Object.values(SETTING_WORDS)
    .flat()
    .find((words) => words.name === name)
  if (!found) throw new Error(`No words for the setting ${name}`)
  return found
}
