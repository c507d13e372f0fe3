import { shortDate } from '../units/date-words.ts'
import {
  celsius,
  flow,
  flowText,
  kilopascals,
  type MeasureSystem,
  pressureText,
  tds,
  tdsText,
  temperatureText,
} from '../units/measures.ts'
import type { CorrectedFlow, FlowInput } from './corrected-flow.ts'
import {
  type FlowCause,
  type FlowCauseKind,
  type FlowComparison,
  type FlowFinding,
  LOW_PRECHARGE_KPA,
  type RejectionDrop,
  USUAL_PRECHARGE_KPA,
} from './flow-finding.ts'
import { heldParts } from './rejection.ts'
import type { FindingInWords } from './trend-words.ts'

/** How the office reads: its measures and its dates. */
export interface ReadingManner {
  readonly measures: MeasureSystem
  readonly locale: string
}

/** A likely cause as an office manager reads it. Whole sentences. */
export interface CauseInWords {
  readonly kind: FlowCauseKind
  readonly name: string
  readonly because: string
  /** What a technician does next. */
  readonly next: string
}

export const CAUSE_NAMES: Readonly<Record<FlowCauseKind, string>> = {
  'low-pressure': 'Low pressure',
  'cold-water': 'Cold water',
  'low-tank-charge': 'Too little air in the tank',
  'clogged-pre-filter': 'Clogged filters ahead of the membrane',
  'failing-membrane': 'A membrane that wears out',
  'leaking-seal': 'A seal that leaks',
}

/** How the flow stands against the membrane's first readings, for the office manager. */
export function flowInWords(finding: FlowFinding, { measures }: ReadingManner): FindingInWords {
  if (finding.kind === 'none')
    return {
      says: 'No flow was measured with this membrane yet.',
      because: [],
      next: 'At the next visit, shut the tank off and time how long a known vessel takes to fill at the tap.',
    }
  if (finding.kind === 'first') {
    const { latest } = finding
    return {
      says: `The first flow with this membrane is ${flowText(latest.flow.flow, measures)}; later ones are compared with it.`,
      because: takenInWords(latest.flow, measures),
      next: '',
    }
  }
  const { comparison } = finding
  return {
    says: standingInWords(finding.kind, comparison, measures),
    because: takenInWords(comparison.latest.flow, measures),
    next: '',
  }
}

function standingInWords(
  kind: 'held' | 'explained' | 'fallen' | 'no-drive',
  { firstMeasured, firstFlow, latest, correctedFallPercent }: FlowComparison,
  measures: MeasureSystem,
): string {
  const text = (value: number): string => flowText(flow(value), measures)
  const [then, now] = [text(firstMeasured), text(latest.flow.flow)]
  const [alikeThen, alikeNow] = [text(firstFlow), text(latest.flow.corrected ?? 0)]
  switch (kind) {
    case 'held':
      return `It gives what it gave at first: at the same pressure and warmth ${alikeNow}, ${alikeThen} then.`
    case 'explained':
      return `Less water comes, ${now} against ${then} at first, but at the same pressure and warmth it would be ${alikeNow} against ${alikeThen}: the membrane and its filters are not the reason.`
    case 'fallen':
      return `At the same pressure and warmth it gives ${Math.round(correctedFallPercent ?? 0)} of 100 parts less than at first: ${alikeNow} against ${alikeThen}.`
    case 'no-drive':
      return `A feed of ${pressureText(latest.flow.conditions.feedPressure, measures)} hardly pushes any water through a membrane, so its flow cannot be compared.`
  }
}

const INPUT_WORDS: Readonly<Partial<Record<FlowInput, string>>> = {
  feedPressure: 'feed pressure',
  temperature: 'temperature',
  tdsIn: 'TDS in',
}

/** What the flow was reckoned with although nobody measured it that day. */
function takenInWords({ taken, conditions }: CorrectedFlow, measures: MeasureSystem): string[] {
  const values: Readonly<Partial<Record<FlowInput, string>>> = {
    feedPressure: pressureText(conditions.feedPressure, measures),
    temperature: temperatureText(conditions.temperature, measures),
    tdsIn: tdsText(conditions.tdsIn),
  }
  const named = taken.flatMap((input) => {
    const [name, value] = [INPUT_WORDS[input], values[input]]
    return name === undefined || value === undefined ? [] : [`${name} (${value})`]
  })
  return named.length === 0 ? [] : [`Not measured that day, and taken as is usual: ${named.join(', ')}.`]
}

/** The likely causes in words, likeliest first. */
export function causesInWords(finding: FlowFinding, manner: ReadingManner): CauseInWords[] {
  return finding.causes.map((cause) => ({
    kind: cause.kind,
    name: CAUSE_NAMES[cause.kind],
    ...(finding.kind === 'none' || finding.kind === 'first'
      ? leakingSeal(finding.drop, null, manner.locale)
      : causeInWords(cause, finding.comparison, manner)),
  }))
}

type Told = Pick<CauseInWords, 'because' | 'next'>

function causeInWords(cause: FlowCause, comparison: FlowComparison, manner: ReadingManner): Told {
  switch (cause.kind) {
    case 'low-pressure':
      return lowPressure(cause, comparison, manner.measures)
    case 'cold-water':
      return coldWater(cause, comparison, manner.measures)
    case 'low-tank-charge':
      return lowTankCharge(comparison, manner.measures)
    case 'clogged-pre-filter':
      return cloggedPreFilter(comparison)
    case 'failing-membrane':
      return failingMembrane(comparison)
    case 'leaking-seal':
      return leakingSeal(comparison.drop, comparison.latest.rejectionPercent, manner.locale)
  }
}

const shareInWords = ({ takesPercent }: FlowCause): string =>
  `that alone takes ${Math.round(takesPercent ?? 0)} of 100 parts of the flow`

function lowPressure(cause: FlowCause, comparison: FlowComparison, measures: MeasureSystem): Told {
  const { feedPressure, tdsIn } = comparison.latest.flow.conditions
  const [then, now] = [
    pressureText(kilopascals(comparison.firstFeedPressure), measures),
    pressureText(feedPressure, measures),
  ]
  if (then === now)
    return {
      because: `The feed holds ${tdsText(tdsIn)}, ${tdsText(tds(comparison.firstTdsIn))} at first: so much salt holds the pressure back, and ${shareInWords(cause)}.`,
      next: 'Measure the feed once more. When it is as salty as that, ask where the water comes from now, and whether a booster pump is worth it.',
    }
  return {
    because: `The feed pressure was ${now}, ${then} at first: ${shareInWords(cause)}.`,
    next: 'Measure the pressure ahead of the sediment filter and behind it. Low on both sides, it is the shut-off valve or the supply; low behind it only, the filters are clogged.',
  }
}

function coldWater(cause: FlowCause, comparison: FlowComparison, measures: MeasureSystem): Told {
  const now = temperatureText(comparison.latest.flow.conditions.temperature, measures)
  const then = temperatureText(celsius(comparison.firstCelsius), measures)
  return {
    because: `The water was ${now}, ${then} at first: ${shareInWords(cause)}.`,
    next: 'Nothing is broken. Tell the household that more comes with warmer water, and measure again then.',
  }
}

function lowTankCharge({ latest }: FlowComparison, measures: MeasureSystem): Told {
  const air = pressureText(latest.tankPrecharge ?? kilopascals(0), measures)
  const usual = [LOW_PRECHARGE_KPA, USUAL_PRECHARGE_KPA]
    .map((kpa) => pressureText(kilopascals(kpa), measures))
    .join(' to ')
  return {
    because: `The empty tank holds ${air} of air where ${usual} is usual: it gives its water back weakly, and little of it.`,
    next: 'Shut the feed, open the tap until the tank is empty, and pump in air to what the tank’s label says. When the air does not stay, or water comes out of the air valve, the tank is to be replaced.',
  }
}

function cloggedPreFilter({ latest, firstRejectionPercent, expectedRejectionPercent }: FlowComparison): Told {
  const now = latest.rejectionPercent
  if (now === null || firstRejectionPercent === null)
    return {
      because:
        'What is left of the fall is neither pressure nor cold, and the filters ahead of the membrane are its commonest reason.',
      next: 'Measure TDS in and out first. When the membrane still holds back what it should, change the sediment and carbon filters and time the flow again.',
    }
  const lessWater =
    firstRejectionPercent - now >= 1 && expectedRejectionPercent !== null
      ? `, and so little water alone would leave it at ${heldParts(expectedRejectionPercent)}`
      : ''
  return {
    because: `The membrane holds back ${heldInWords(now, firstRejectionPercent)}${lessWater}, so it is sound; less water reaches it.`,
    next: 'Shut the feed, relieve the pressure, change the sediment and carbon filters, and time the flow again. When it stays low, the membrane itself is clogged with scale or dirt.',
  }
}

const heldInWords = (now: number, then: number): string => `${heldParts(now)} of 100 parts, ${heldParts(then)} at first`

function failingMembrane({ latest, firstRejectionPercent, expectedRejectionPercent }: FlowComparison): Told {
  const now = latest.rejectionPercent
  if (now === null || firstRejectionPercent === null)
    return {
      because: 'Nobody measured what the membrane holds back, so nothing clears it.',
      next: 'Measure TDS in and out before anything is changed.',
    }
  const byTheDay =
    expectedRejectionPercent !== null && firstRejectionPercent - expectedRejectionPercent >= 1
      ? `; so little water or so warm a day alone would leave it at ${heldParts(expectedRejectionPercent)}`
      : ''
  return {
    because: `It holds back ${heldInWords(now, firstRejectionPercent)}${byTheDay}.`,
    next: 'Its trend says how long it still serves. Where it fell faster than the water lets expect, test for chlorine behind the carbon filters, for chlorine is what ruins membranes.',
  }
}

const LOOK_AT_THE_SEAL =
  'Shut the feed, relieve the pressure and take the membrane out. Look at its seal and the O-rings for nicks, dirt and twists, set it in straight to its stop, and measure again.'

function leakingSeal(drop: RejectionDrop | null, latest: number | null, locale: string): Told {
  if (drop === null || drop.before === null) return newlySeated(drop?.after ?? latest)
  return {
    because: `It held back ${heldParts(drop.before)} of 100 parts before the unit stood open on ${shortDate(drop.openedOn, locale)}, and ${heldParts(drop.after)} after it: too sudden for a membrane that wears out.`,
    next: LOOK_AT_THE_SEAL,
  }
}

function newlySeated(percent: number | null): Told {
  return {
    because: `A new membrane that holds back only ${heldParts(percent ?? 0)} of 100 parts from its first reading on lets feed water past its seal.`,
    next: LOOK_AT_THE_SEAL,
  }
}
