import { type CalendarDate, partsOf } from '../units/calendar-date.ts'
import { monthName, shortDate } from '../units/date-words.ts'
import type { MembraneFinding, MembraneThresholds, RejectionTrend } from './membrane-trend.ts'
import { heldParts } from './rejection.ts'

/** A finding as an office manager reads it: what it is, what speaks for it, what to do next. Whole sentences; `next` may be empty. */
export interface FindingInWords {
  readonly says: string
  readonly because: readonly string[]
  readonly next: string
}

const COUNT_WORDS = ['No', 'One', 'Two'] as const
/** Less than this a year, points of a hundred, is no fall that anybody would see on a meter. */
const HARDLY_A_YEAR = 0.5
/** Membranes do not heal: a rise beyond this a year, points of a hundred, says more about the readings. Common practice, no source. */
const ODD_RISE_A_YEAR = 2

/** What the readings of a membrane say, for the office manager. */
export function membraneInWords(finding: MembraneFinding, marks: MembraneThresholds, locale: string): FindingInWords {
  switch (finding.kind) {
    case 'none':
      return {
        says: 'Nothing was measured on this membrane that counts, so the rule of thumb sets its date.',
        because: [],
        next: 'Measure TDS in and out at the next visit.',
      }
    case 'too-few':
      return {
        says: `It ${heldBack(finding.latestPercent)} on ${shortDate(finding.lastReadOn, locale)}.`,
        because: [
          `${COUNT_WORDS[finding.readings]} ${finding.readings === 1 ? 'day' : 'days'} with readings so far; a trend needs three, so the rule of thumb sets its date.`,
        ],
        next: 'Measure again at the next visit.',
      }
    case 'below':
      return belowInWords(finding, marks, locale)
    case 'crosses':
      return crossesInWords(finding, marks)
    case 'holding':
    case 'rising':
      return holdsInWords(finding, marks)
    case 'unsure':
      return unsureInWords(finding, marks)
  }
}

type Of<K extends MembraneFinding['kind']> = Extract<MembraneFinding, { readonly kind: K }>

function belowInWords(finding: Of<'below'>, marks: MembraneThresholds, locale: string): FindingInWords {
  const { latestPercent, lastReadOn, inARow, since, overdue } = finding
  const mark = overdue
    ? `at ${marks.overduePercent} it is overdue`
    : `at ${marks.replacePercent} it is time to replace it`
  return {
    says: `It held back only ${parts(latestPercent)} on ${shortDate(lastReadOn, locale)}: ${mark}.`,
    because:
      inARow === 1
        ? []
        : [
            `Its last ${inARow} readings all lie at ${marks.replacePercent} or under, since ${shortDate(since, locale)}.`,
          ],
    next:
      inARow === 1
        ? 'Measure once more before it is changed: a single reading can be wrong.'
        : 'Change the membrane, and sanitise the tank with it.',
  }
}

function crossesInWords(finding: Of<'crosses'>, marks: MembraneThresholds): FindingInWords {
  const { trend, on, earliestOn, latestOn, lastReadOn, latestPercent } = finding
  const falls = `It ${holdsBack(latestPercent)} and loses ${rateInWords(-trend.middle.perYear)} a year`
  if (on === lastReadOn)
    return {
      says: `${falls}: by its trend it has come to ${marks.replacePercent} already.`,
      because: [`The last reading lies a little above its trend. ${bandInWords(trend, earliestOn, latestOn)}`],
      next: 'Change the membrane at the next visit, after measuring once more.',
    }
  return {
    says: `${falls}: it comes to ${marks.replacePercent} about ${monthAndYear(on)}.`,
    because: [bandInWords(trend, earliestOn, latestOn)],
    next: `Change it by ${monthAndYear(on)}.`,
  }
}

function bandInWords(trend: RejectionTrend, earliestOn: CalendarDate, latestOn: CalendarDate): string {
  const [from, until] = [monthAndYear(earliestOn), monthAndYear(latestOn)]
  const sure = `${oftenInWords(trend.confidence)} with readings like these`
  return from === until ? `The day lies in ${from}, ${sure}.` : `The day lies between ${from} and ${until}, ${sure}.`
}

function holdsInWords(finding: Of<'holding'> | Of<'rising'>, marks: MembraneThresholds): FindingInWords {
  const { trend, earliestOn, latestPercent } = finding
  const { perYear } = trend.middle
  const how = perYear >= 0 ? 'does not fall' : `loses ${rateInWords(-perYear)} a year`
  const reach =
    earliestOn === null
      ? `The mark of ${marks.replacePercent} is out of sight.`
      : `Even if its readings flatter it, it does not come to ${marks.replacePercent} before ${monthAndYear(earliestOn)}.`
  const odd =
    perYear > ODD_RISE_A_YEAR
      ? ['Its readings even rise, which no membrane does by itself: see that all were taken at the same place.']
      : []
  return {
    says: `It ${holdsBack(latestPercent)} and ${how}.`,
    because: [reach, ...odd],
    next: 'Leave it where it is, and measure again at the next visit.',
  }
}

function unsureInWords(finding: Of<'unsure'>, marks: MembraneThresholds): FindingInWords {
  const { earliestOn, latestOn, lastReadOn, latestPercent, on } = finding
  const early = earliestOn === lastReadOn ? 'could be there now' : `could come as early as ${monthAndYear(earliestOn)}`
  const late = latestOn === null ? 'or not for years' : `or as late as ${monthAndYear(latestOn)}`
  return {
    says: `It ${holdsBack(latestPercent)}, but its readings do not agree well enough to set a date.`,
    because: [
      `The mark of ${marks.replacePercent} ${early}, ${late}; the rule of thumb sets the date.`,
      ...(on === null ? ['Up and down cancel out: its readings show no fall.'] : []),
    ],
    next: 'Measure again at the next visit, at the same tap, with the same meter and the tank shut off.',
  }
}

const parts = (percent: number): string => `${heldParts(percent)} of 100 parts`
const holdsBack = (percent: number): string => `holds back ${parts(percent)}`
const heldBack = (percent: number): string => `held back ${parts(percent)}`

function rateInWords(perYear: number): string {
  return perYear < HARDLY_A_YEAR ? 'hardly anything' : `about ${Math.max(1, Math.round(perYear))}`
}

/** "nine times in ten": how often a band of this confidence, 0 to 1, holds. */
export function oftenInWords(confidence: number): string {
  if (confidence >= 0.97) return 'nearly always'
  return confidence >= 0.85 ? 'nine times in ten' : 'two times in three'
}

/** "March 2027". */
const monthAndYear = (date: CalendarDate): string => `${monthName(partsOf(date).month)} ${partsOf(date).year}`
