import { counted } from '../units/date-words.ts'
import { type LetterManner, type Replies, type RepliesOnRecord, usualDays } from './letters-to-visits.ts'
import type { LettersRecord } from './proposal-shapes.ts'
import { bookingCourse } from './reply-course.ts'

/** Days that are said besides the office's own leads. */
const A_MONTH = 30

/** What the office's letters led to, as counted and as reckoned with the office's own figure; for the sheet of a proposal. */
export function lettersRecord(record: RepliesOnRecord, replies: Replies, manner: LetterManner): LettersRecord {
  const last = manner.finalAfterDays + usualDays(manner)
  const course = bookingCourse({ path: 'to-write', firstIn: 0 }, replies, manner, last)
  const days = [...new Set([manner.secondAfterDays, A_MONTH, last])].filter((each) => each > 0).sort((a, b) => a - b)
  const within = days.map((day) => {
    const old = record.firsts.filter((letter) => letter.daysAgo >= day)
    const booked = old.filter((letter) => letter.bookedAfter !== null && letter.bookedAfter <= day)
    const reckoned = course.subarray(0, day + 1).reduce((sum, chance) => sum + chance, 0)
    return {
      days: day,
      letters: countOf(old),
      booked: countOf(booked),
      reckonedPercent: Math.min(100, reckoned * 100),
    }
  })
  const young = countOf(record.firsts.filter((letter) => letter.daysAgo < last))
  const shape = { within, young, priorLetters: manner.weighs, priorPercent: manner.percent }
  return {
    ...shape,
    sentences: [...sentencesOf(shape, manner, last), delayWords(record, replies), ...unaskedWords(record, replies)],
  }
}

const countOf = (letters: readonly { readonly letters: number }[]): number =>
  letters.reduce((sum, each) => sum + each.letters, 0)

function sentencesOf(
  record: Omit<LettersRecord, 'sentences'>,
  { percent, weighs }: LetterManner,
  last: number,
): string[] {
  const month = record.within.find(({ days }) => days === A_MONTH)
  const own = `your figure of ${percent} %, which weighs as much as ${counted(weighs, 'letter')} of each kind`
  if (!month || month.letters === 0)
    return [`No first letter is older than ${A_MONTH} days yet: the chances rest on ${own}.`]
  const sentences = [
    `${month.booked} of ${counted(month.letters, 'household')} that had a first letter in the last 2 years booked within ${A_MONTH} days; with ${own}, that is ${Math.round(month.reckonedPercent)} %.`,
  ]
  if (record.young > 0)
    sentences.push(
      `${counted(record.young, 'first letter')} younger than ${counted(last, 'day')} count${record.young === 1 ? 's' : ''} for the days they have had.`.replace(
        '1 first letter younger than',
        'One first letter younger than',
      ),
    )
  return sentences
}

function delayWords({ delays }: RepliesOnRecord, replies: Replies): string {
  const mean = replies.delays.reduce((sum, chance, day) => sum + chance * day, 0)
  const visits = delays.reduce((sum, each) => sum + each.visits, 0)
  const seen = visits === 0 ? 'no visit is on record yet' : `${counted(visits, 'visit')} on record`
  return `From booking to visit it takes ${counted(Math.round(mean), 'day')} on average (${seen}).`
}

function unaskedWords({ unasked }: RepliesOnRecord, replies: Replies): string[] {
  if (unasked.waiting === 0) return []
  const month = (1 - (1 - replies.unasked) ** A_MONTH) * 100
  const booked = `${counted(unasked.bookings, 'visit')} in ${counted(unasked.days, 'day')}`
  return [
    `${counted(unasked.waiting, 'household')} that ${unasked.waiting === 1 ? 'is' : 'are'} due and get${unasked.waiting === 1 ? 's' : ''} no letters: such households booked ${booked}; reckoned at ${Math.round(month)} % in a month.`,
  ]
}
