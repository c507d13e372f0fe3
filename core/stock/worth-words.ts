import { counted, shortDate, spanInWords } from '../units/date-words.ts'
import { type Cents, formatCents } from '../units/money.ts'
import { percentOf } from './fill-rate.ts'
import type { PartWorth, Worth } from './worth-shapes.ts'

/** How the office writes money and dates. */
export interface WorthManner {
  readonly locale: string
  readonly currency: string
}

/** Parts whose cover is shorter than this are named. */
const SHORT_COVER_DAYS = 14

/** What the owner wants to know of it, in whole sentences: worth, rest, expiry, what was there when it was asked for, what runs out. */
export function worthInWords(worth: Omit<Worth, 'sentences'>, manner: WorthManner): string[] {
  return [
    valueSentence(worth, manner),
    ...lostSentence(worth, manner),
    ...restSentence(worth, manner),
    ...(worth.isToday ? [expirySentence(worth, manner)] : []),
    fillSentence(worth, manner),
    ...(worth.isToday ? coverSentence(worth) : []),
  ]
}

function valueSentence(worth: Omit<Worth, 'sentences'>, { locale, currency }: WorthManner): string {
  const money = (amount: Cents) => formatCents(amount, currency, locale)
  if (worth.value === 0)
    return worth.isToday
      ? 'Nothing lies in stock that has cost anything.'
      : `On ${shortDate(worth.on, locale)} nothing lay in stock that had cost anything.`
  const places = [
    worth.inBins > 0 ? `${money(worth.inBins)} in bins` : '',
    worth.onVans > 0 ? `${money(worth.onVans)} on vans` : '',
    worth.elsewhere > 0 ? `${money(worth.elsewhere)} set aside or on the way` : '',
  ].filter(Boolean)
  const begin = worth.isToday ? 'The stock has cost' : `On ${shortDate(worth.on, locale)} the stock had cost`
  return `${begin} ${money(worth.value)}: ${listed(places)}.`
}

function lostSentence({ lost }: Omit<Worth, 'sentences'>, { locale, currency }: WorthManner): string[] {
  if (lost === 0) return []
  return [`${formatCents(lost, currency, locale)} of it may not be fitted any more: recalled, or past its date.`]
}

function restSentence(worth: Omit<Worth, 'sentences'>, { locale, currency }: WorthManner): string[] {
  if (worth.parts.every((part) => part.pieces === 0)) return []
  const span = spanInWords(worth.restAfterDays)
  const resting = worth.parts.filter((part) => part.rests)
  if (resting.length === 0) return [`Everything that lies there was used, or came, within ${span}.`]
  const money = formatCents(worth.resting, currency, locale)
  return [`${money} lies in ${counted(resting.length, 'part')} that nobody has used for ${span}.`]
}

function expirySentence(worth: Omit<Worth, 'sentences'>, { locale, currency }: WorthManner): string {
  const coming = worth.expiring.filter((lot) => lot.expiresOn >= worth.on)
  const left = coming.filter((lot) => lot.willBeUsed < lot.pieces)
  const lots = counted(coming.length, 'lot')
  if (coming.length === 0) return 'Nothing expires within 90 days.'
  if (left.length === 0)
    return `${lots} will expire within 90 days; all that lies of ${coming.length === 1 ? 'it' : 'them'} will likely be used before.`
  const pieces = left.reduce((sum, lot) => sum + lot.pieces - lot.willBeUsed, 0)
  const money = formatCents(worth.atRisk, currency, locale)
  return `${lots} will expire within 90 days; ${counted(pieces, 'piece')} for ${money} will likely be left of ${coming.length === 1 ? 'it' : 'them'} then.`
}

function fillSentence({ fill }: Omit<Worth, 'sentences'>, { locale }: WorthManner): string {
  const since = shortDate(fill.since, locale)
  if (fill.piecesAsked === 0) return `Since ${since} no pull was put on a van.`
  const percent = percentOf(fill.piecesServed, fill.piecesAsked)
  const pieces = counted(fill.piecesAsked, 'piece')
  const visits = counted(fill.visits, 'visit')
  if (fill.piecesServed === fill.piecesAsked)
    return `Since ${since} every one of the ${pieces} that ${visits} asked for was there.`
  return `Since ${since} ${percent} % of the ${pieces} that visits asked for were there, and ${fill.visitsWhole} of ${visits} got everything.`
}

function coverSentence({ parts }: Omit<Worth, 'sentences'>): string[] {
  const short = parts
    .filter(
      (part): part is PartWorth & { coverDays: number } => part.coverDays !== null && part.coverDays < SHORT_COVER_DAYS,
    )
    .sort((a, b) => a.coverDays - b.coverDays)
  if (parts.every((part) => part.coverDays === null)) return []
  const [first] = short
  if (!first) return [`What lies there is enough for ${SHORT_COVER_DAYS} days and more of every part that is used.`]
  const enough =
    first.usable === 0
      ? `There is no usable piece of ${first.name}`
      : first.coverDays === 0
        ? `There is not enough of ${first.name} for today`
        : `${first.name} is enough for ${counted(first.coverDays, 'day')}`
  const others = short.length - 1
  const more = others === 0 ? '' : `; ${counted(others, 'other part')} will last less than ${SHORT_COVER_DAYS} days`
  return [`${enough}${more}.`]
}

/** "a", "a and b", "a, b and c". */
function listed(words: readonly string[]): string {
  if (words.length < 2) return words.join('')
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`
}
