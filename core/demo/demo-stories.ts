import type { FlowCauseKind, FlowFinding } from '../water/flow-finding.ts'
import type { MembraneFinding } from '../water/membrane-trend.ts'

/** What happened at the door so many days ago, and what the meters said afterwards. */
export interface StoryStep {
  readonly daysAgo: number
  /** `fitted`: the unit was. `filters`: a visit that changed what goes by months. `measured`: no visit, only a reading at the door. */
  readonly what: 'fitted' | 'filters' | 'filters and membrane' | 'measured'
  /** Percent of the dissolved solids, afterwards. */
  readonly heldBack: number
  /** Of the flow of a new membrane, at the same pressure and temperature. */
  readonly flowShare: number
  readonly feedPsi?: number
  readonly tankPsi?: number
  readonly unlikely?: boolean
  readonly note?: string
}

/** What the pure rules of core/water must say of a story's readings. */
export interface StoryFinding {
  readonly membrane: MembraneFinding['kind']
  readonly flow: FlowFinding['kind'] | 'any'
  /** A cause that stands among those named; null when the story is not about one. */
  readonly cause: FlowCauseKind | null
}

export interface DemoStory {
  readonly id: string
  /** What it is there to show, in a sentence. */
  readonly shows: string
  readonly given: string
  /** With no given name: a business. */
  readonly family: string
  readonly town: number
  readonly line1: string
  readonly people: number
  readonly hardness: number
  readonly tds: number
  /** Parts in flow order, a list for each unit. */
  readonly units: readonly { readonly name: string; readonly stages: readonly string[] }[]
  readonly monthsAway?: string
  /** Drunk a day by the meter on the product line, litres; without one there is no meter. */
  readonly meteredLitres?: number
  /** The story whose customer owns this home too; it stands next door. */
  readonly sameOwnerAs?: string
  readonly steps: readonly StoryStep[]
  readonly finding: StoryFinding
}

const FIVE_STAGES = ['P-1005', 'P-1010', 'P-2050', 'tank', 'P-3010']
const SIX_STAGES = ['P-1005', 'P-1010', 'P-1011', 'P-2075', 'tank', 'P-3010']
const WITH_MINERALS = ['P-1005', 'P-1010', 'P-2075', 'tank', 'P-3010', 'P-3020']
const kitchen = (stages: readonly string[]) => [{ name: 'under the kitchen sink', stages }]
const TOLLARD_MILL = 0
const PELL_HARBOR = 1
const ORRIN_FALLS = 2
const SALTGRASS = 3
const NETHER_QUAY = 4

/** The homes of the demo office whose readings tell something that one can learn from. The rest of the office only ages. */
export const DEMO_STORIES: readonly DemoStory[] = [
  {
    id: 'hard-water',
    shows: 'Hard water and a membrane that fails: it reaches the mark in about two months, well told by its readings.',
    given: 'Marguerite',
    family: 'Aldersey',
    town: SALTGRASS,
    line1: '31 Samphire Road',
    people: 3,
    hardness: 262,
    tds: 640,
    units: kitchen(SIX_STAGES),
    steps: [
      { daysAgo: 820, what: 'fitted', heldBack: 96.4, flowShare: 1 },
      { daysAgo: 515, what: 'filters', heldBack: 89.1, flowShare: 0.97 },
      { daysAgo: 210, what: 'filters', heldBack: 81.7, flowShare: 0.94 },
      {
        daysAgo: 75,
        what: 'measured',
        heldBack: 78.4,
        flowShare: 0.93,
        note: 'the household said that the tea tastes again',
      },
    ],
    finding: { membrane: 'crosses', flow: 'any', cause: 'failing-membrane' },
  },
  {
    id: 'soft-water',
    shows:
      'Soft water and a healthy old membrane: past its months by the calendar, and not due, because its readings hold.',
    given: 'Joss',
    family: 'Wainfleet',
    town: ORRIN_FALLS,
    line1: '7 Birchwater Lane',
    people: 4,
    hardness: 30,
    tds: 116,
    units: kitchen(WITH_MINERALS),
    steps: [
      { daysAgo: 1525, what: 'fitted', heldBack: 97.2, flowShare: 1 },
      { daysAgo: 1280, what: 'filters', heldBack: 96.5, flowShare: 0.98 },
      { daysAgo: 1035, what: 'filters', heldBack: 95.7, flowShare: 0.97 },
      { daysAgo: 790, what: 'filters', heldBack: 95, flowShare: 0.95 },
      { daysAgo: 545, what: 'filters', heldBack: 94.2, flowShare: 0.94 },
      { daysAgo: 300, what: 'filters', heldBack: 93.5, flowShare: 0.93 },
      { daysAgo: 55, what: 'filters', heldBack: 92.7, flowShare: 0.92 },
    ],
    finding: { membrane: 'holding', flow: 'any', cause: null },
  },
  {
    id: 'couple',
    shows:
      'A couple: twelve months for every filter; two readings, too few for a trend, so the membrane goes by its months.',
    given: 'Ada',
    family: 'Fennimore',
    town: PELL_HARBOR,
    line1: '22 Lantern Court',
    people: 2,
    hardness: 86,
    tds: 285,
    units: kitchen(FIVE_STAGES),
    steps: [
      { daysAgo: 705, what: 'fitted', heldBack: 96.2, flowShare: 1 },
      { daysAgo: 340, what: 'filters', heldBack: 93.9, flowShare: 0.97 },
    ],
    finding: { membrane: 'too-few', flow: 'any', cause: null },
  },
  {
    id: 'family-of-six',
    shows:
      'A family of six with a meter: six months, and less for what has a rated volume; a membrane change brought held back and flow up again.',
    given: 'Leonie',
    family: 'Brockhurst',
    town: TOLLARD_MILL,
    line1: '12 Millrace Court',
    people: 6,
    hardness: 150,
    tds: 412,
    units: [
      { name: 'in the utility room', stages: ['P-1005', 'P-1010', 'P-1011', 'P-2075', 'tank', 'P-3010', 'P-3020'] },
    ],
    meteredLitres: 21.5,
    steps: [
      { daysAgo: 1000, what: 'fitted', heldBack: 96.3, flowShare: 1 },
      { daysAgo: 840, what: 'filters', heldBack: 89.8, flowShare: 0.94 },
      { daysAgo: 675, what: 'filters', heldBack: 82.4, flowShare: 0.88 },
      {
        daysAgo: 520,
        what: 'measured',
        heldBack: 74.1,
        flowShare: 0.83,
        note: 'membrane to be changed with the next filters',
      },
      { daysAgo: 510, what: 'filters and membrane', heldBack: 96.8, flowShare: 1 },
      { daysAgo: 340, what: 'filters', heldBack: 93.6, flowShare: 0.97 },
      { daysAgo: 170, what: 'filters', heldBack: 90.4, flowShare: 0.94 },
    ],
    finding: { membrane: 'crosses', flow: 'any', cause: null },
  },
  {
    id: 'seasonal',
    shows: 'A seasonal home, shut from December to March: its filters count only the months in use.',
    given: 'Gwendolyn',
    family: 'Ottery',
    town: NETHER_QUAY,
    line1: '3 Tidewater Court',
    people: 2,
    hardness: 120,
    tds: 356,
    units: kitchen(FIVE_STAGES),
    monthsAway: '1,2,3,12',
    steps: [
      { daysAgo: 1250, what: 'fitted', heldBack: 96.5, flowShare: 1 },
      { daysAgo: 700, what: 'filters', heldBack: 94.6, flowShare: 0.98 },
      { daysAgo: 150, what: 'filters', heldBack: 92.8, flowShare: 0.95 },
    ],
    finding: { membrane: 'holding', flow: 'any', cause: null },
  },
  {
    id: 'leaking-seal',
    shows: 'A seal that leaks since the last change: held back fell at once with the housings open, and flow did not.',
    given: 'Edmund',
    family: 'Harkaway',
    town: PELL_HARBOR,
    line1: '9 Netmaker Lane',
    people: 3,
    hardness: 86,
    tds: 290,
    units: kitchen(FIVE_STAGES),
    steps: [
      { daysAgo: 640, what: 'fitted', heldBack: 96.5, flowShare: 1 },
      { daysAgo: 330, what: 'filters', heldBack: 95.1, flowShare: 0.98 },
      { daysAgo: 26, what: 'filters', heldBack: 84.6, flowShare: 1 },
      { daysAgo: 9, what: 'measured', heldBack: 84.8, flowShare: 1, note: 'measured again, the same' },
    ],
    finding: { membrane: 'unsure', flow: 'any', cause: 'leaking-seal' },
  },
  {
    id: 'clogged-filter',
    shows: 'A clogged filter ahead of the membrane: a third of the flow is gone, held back is as it was.',
    given: 'Rosamund',
    family: 'Tarrant-Vale',
    town: TOLLARD_MILL,
    line1: '40 Teasel Road',
    people: 5,
    hardness: 150,
    tds: 405,
    units: kitchen(SIX_STAGES),
    steps: [
      { daysAgo: 575, what: 'fitted', heldBack: 96.4, flowShare: 1 },
      { daysAgo: 395, what: 'filters', heldBack: 95.1, flowShare: 0.98 },
      { daysAgo: 215, what: 'filters', heldBack: 93.9, flowShare: 0.96 },
      { daysAgo: 12, what: 'measured', heldBack: 93.4, flowShare: 0.66, note: 'the tap runs thin' },
    ],
    finding: { membrane: 'holding', flow: 'fallen', cause: 'clogged-pre-filter' },
  },
  {
    id: 'soft-tank',
    shows: 'A tank that has lost its air: new filters, a membrane that holds, and little water all the same.',
    given: 'Dilys',
    family: 'Mercer-Lloyd',
    town: ORRIN_FALLS,
    line1: '15 Spruce Lane',
    people: 2,
    hardness: 36,
    tds: 124,
    units: kitchen(FIVE_STAGES),
    steps: [
      { daysAgo: 800, what: 'fitted', heldBack: 97, flowShare: 1 },
      { daysAgo: 430, what: 'filters', heldBack: 96.2, flowShare: 0.98 },
      { daysAgo: 62, what: 'filters', heldBack: 95.4, flowShare: 0.77, tankPsi: 3.4, note: 'tank pumped up to 7 psi' },
    ],
    finding: { membrane: 'holding', flow: 'fallen', cause: 'low-tank-charge' },
  },
  {
    id: 'unlikely-reading',
    shows: 'One reading that cannot be trusted: asked about, kept with its mark, and no date rests on it.',
    given: 'Alban',
    family: 'Pargeter',
    town: SALTGRASS,
    line1: '18 Plover Court',
    people: 4,
    hardness: 240,
    tds: 630,
    units: kitchen(SIX_STAGES),
    steps: [
      { daysAgo: 500, what: 'fitted', heldBack: 96.2, flowShare: 1 },
      { daysAgo: 255, what: 'filters', heldBack: 90.7, flowShare: 0.97 },
      {
        daysAgo: 130,
        what: 'measured',
        heldBack: 52,
        flowShare: 0.96,
        unlikely: true,
        note: 'meter not rinsed between the two?',
      },
      { daysAgo: 10, what: 'filters', heldBack: 85.2, flowShare: 0.94 },
    ],
    finding: { membrane: 'crosses', flow: 'any', cause: null },
  },
  {
    id: 'two-units',
    shows: 'A guest house with two units, which one call serves.',
    given: '',
    family: 'Quillfeather Guest House',
    town: TOLLARD_MILL,
    line1: '2 Ferrier Avenue',
    people: 7,
    hardness: 150,
    tds: 415,
    units: [
      { name: 'in the guest kitchen', stages: SIX_STAGES },
      { name: 'in the flat upstairs', stages: FIVE_STAGES },
    ],
    steps: [
      { daysAgo: 705, what: 'fitted', heldBack: 96.5, flowShare: 1 },
      { daysAgo: 525, what: 'filters', heldBack: 93.4, flowShare: 0.97 },
      { daysAgo: 345, what: 'filters', heldBack: 90.3, flowShare: 0.95 },
      { daysAgo: 165, what: 'filters', heldBack: 87.3, flowShare: 0.93 },
    ],
    finding: { membrane: 'crosses', flow: 'any', cause: null },
  },
  {
    id: 'first-of-two-homes',
    shows: 'One of two homes of one owner, next door to each other: a visit to both saves a drive.',
    given: 'Agnes',
    family: 'Lindwall',
    town: PELL_HARBOR,
    line1: '12 Halyard Street',
    people: 2,
    hardness: 88,
    tds: 280,
    units: kitchen(FIVE_STAGES),
    steps: [
      { daysAgo: 690, what: 'fitted', heldBack: 96.4, flowShare: 1 },
      { daysAgo: 320, what: 'filters', heldBack: 94.2, flowShare: 0.98 },
    ],
    finding: { membrane: 'too-few', flow: 'any', cause: null },
  },
  {
    id: 'second-of-two-homes',
    shows: 'The other one: due five weeks after the first.',
    given: 'Agnes',
    family: 'Lindwall',
    town: PELL_HARBOR,
    line1: '14 Halyard Street',
    people: 2,
    hardness: 88,
    tds: 280,
    units: kitchen(FIVE_STAGES),
    sameOwnerAs: 'first-of-two-homes',
    steps: [
      { daysAgo: 655, what: 'fitted', heldBack: 96.6, flowShare: 1 },
      { daysAgo: 285, what: 'filters', heldBack: 94.5, flowShare: 0.98 },
    ],
    finding: { membrane: 'too-few', flow: 'any', cause: null },
  },
  {
    id: 'low-pressure',
    shows: 'Little pressure in the street: less water than at first, and all of it told by the pressure.',
    given: 'Selwyn',
    family: 'Ambrose-Kite',
    town: NETHER_QUAY,
    line1: '8 Mooring Lane',
    people: 2,
    hardness: 118,
    tds: 350,
    units: kitchen(FIVE_STAGES),
    steps: [
      { daysAgo: 750, what: 'fitted', heldBack: 96.2, flowShare: 1, feedPsi: 61 },
      { daysAgo: 385, what: 'filters', heldBack: 94.6, flowShare: 0.98, feedPsi: 60 },
      {
        daysAgo: 20,
        what: 'filters',
        heldBack: 91.4,
        flowShare: 0.96,
        feedPsi: 38,
        note: 'pressure low in the whole street',
      },
    ],
    finding: { membrane: 'holding', flow: 'explained', cause: 'low-pressure' },
  },
]

/** The stories take the last places of the office, once it is large enough that they are the exception. */
export const storyPlaces = (households: number): number =>
  households >= 3 * DEMO_STORIES.length ? DEMO_STORIES.length : 0
