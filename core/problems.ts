import { z } from 'zod'

/**
 * Every refusal of the office, once: what is wrong in one sentence, and the next step. `{name}` is filled from the facts given.
 * One section per job word; a code begins with it.
 */
const PROBLEMS = {
  // any record
  RECORD_GONE: { sentence: '{what} is no longer in the books.', nextStep: 'Go back to the list and open it again.' },
  RECORD_CHANGED: {
    sentence: '{what} was changed by someone else since you opened it: {changes}.',
    nextStep: 'Look at what changed, then save again.',
  },
  DATABASE_BUSY: {
    sentence: 'Another piece of work is writing to the books.',
    nextStep: 'Try again in a few seconds; nothing was changed.',
  },
  DATABASE_NEWER: {
    sentence: 'These books were written by a newer Penstock (step {found}; this one knows up to {known}).',
    nextStep: 'Install the newer program, or open a backup made before the change.',
  },
  OFFICE_EXISTS: { sentence: 'These books already have an office.', nextStep: 'Open it, or start with new books.' },
  WORK_UNKNOWN: { sentence: 'There is no such work to do.', nextStep: 'Go back and start it again from its screen.' },
  WORK_GONE: { sentence: 'That work is over and forgotten.', nextStep: 'Look at the list to see what it did.' },
  PAPER_UNKNOWN: { sentence: 'There is no paper at this address.', nextStep: 'Open it again from its screen.' },
  WORK_STOPPED: { sentence: 'The work was stopped.', nextStep: 'Nothing was changed. Start it again when you like.' },

  // visits
  VISIT_DATE_PAST: { sentence: '{date} is past.', nextStep: 'Choose today or a later day.' },
  VISIT_WINDOW_EMPTY: {
    sentence: 'The arrival window ends before it begins.',
    nextStep: 'Give a beginning and a later end, such as 8 to 10.',
  },
  VISIT_NOTHING_TO_DO: {
    sentence: 'No work is chosen for this visit.',
    nextStep: 'Choose at least one stage, or write down another task.',
  },
  VISIT_TECHNICIAN_GONE: {
    sentence: '{technician} no longer works here on {date}.',
    nextStep: 'Choose another technician.',
  },
  VISIT_DAY_OFF: {
    sentence: '{technician} is off on {date}{why}.',
    nextStep: 'Choose another day or another technician.',
  },
  VISIT_DOUBLE_BOOKED: {
    sentence: 'With this visit {technician} cannot be at every door within its window on {date}: {others}.',
    nextStep: 'Choose another window, a wider one, or another technician.',
  },
  VISIT_NOT_A_WORKDAY: {
    sentence: '{technician} does not usually work on a {weekday}.',
    nextStep: 'Book it all the same if that is agreed.',
  },
  VISIT_OUTSIDE_HOURS: {
    sentence: 'The window {window} reaches outside the working day, {hours}.',
    nextStep: 'Book it all the same if that is agreed.',
  },
  VISIT_DAY_FULL: {
    sentence: '{date} would hold {booked} of work and driving for {technician}; there are {hours}.',
    nextStep: 'Choose another day, or book it all the same.',
  },
  VISIT_HOUSEHOLD_BOOKED: {
    sentence: '{household} already has a visit on {date}, {window}.',
    nextStep: 'Move that visit instead, or book a second one all the same.',
  },
  VISIT_DAY_CHANGED: {
    sentence: 'While you were booking, someone else changed {technician}, {date}: {changes}.',
    nextStep: 'Look at the day as it is now, then book again.',
  },
  VISIT_NOT_BOOKED: {
    sentence: 'This visit is {state}, not booked any more.',
    nextStep: 'Open it to see what happened.',
  },
  VISIT_NOT_RECORDED: {
    sentence: 'This visit has not been recorded yet.',
    nextStep: 'Record it first.',
  },
  VISIT_NEEDS_REASON: { sentence: 'The reason is missing.', nextStep: 'Write in a few words why.' },
  VISIT_IN_FUTURE: {
    sentence: '{date} has not come yet, so nothing can have been done then.',
    nextStep: 'Give the day on which the work was done.',
  },
  VISIT_STAGE_ELSEWHERE: {
    sentence: 'A stage of this visit does not belong to the household.',
    nextStep: 'Open the household and choose its stages again.',
  },
  VISIT_LOT_NOT_OF_PART: {
    sentence: 'Lot {lot} is not a lot of {part}.',
    nextStep: 'Choose a lot of this part, or leave the lot open.',
  },

  // readings
  READING_NOT_A_NUMBER: {
    sentence: '{what}: “{typed}” is not a figure.',
    nextStep: 'Write digits, such as 412 or 6.8.',
  },
  READING_BELOW_ZERO: { sentence: '{what} cannot be below zero.', nextStep: 'Look at the figure again.' },
  READING_ZERO_FEED: {
    sentence: 'No feed water measures 0 mg/L.',
    nextStep: 'Measure the feed again, or leave it blank.',
  },
  READING_PRODUCT_ABOVE_FEED: {
    sentence: 'The product ({out}) cannot hold more than the feed ({in}).',
    nextStep: 'See whether the two are swapped; measure ahead of the mineral cartridge.',
  },
  READING_OUT_OF_RANGE: {
    sentence: '{what} of {value} cannot be; it lies between {least} and {most}.',
    nextStep: 'Look at the figure and its unit again.',
  },

  // invoices and payments
  INVOICE_ISSUED: {
    sentence: 'Invoice {number} is issued, and an issued invoice never changes.',
    nextStep: 'Write a credit note for it, then a new invoice.',
  },
  INVOICE_NOT_ISSUED: { sentence: 'This is still a draft.', nextStep: 'Issue it first.' },
  INVOICE_EMPTY: {
    sentence: 'The draft for {customer} has no lines, so there is nothing to ask for.',
    nextStep: 'Write at least one line, or drop the draft.',
  },
  INVOICE_LINE_WITHOUT_WORDS: {
    sentence: 'Line {line} says nothing.',
    nextStep: 'Write what it is for, or take the line out.',
  },
  INVOICE_QUANTITY_NOT_ABOVE_ZERO: {
    sentence: 'Line {line} has the quantity {quantity}; an invoice asks for more than none.',
    nextStep: 'Write a quantity above zero. To give money back, write a credit note.',
  },
  INVOICE_PRICE_BELOW_ZERO: {
    sentence: 'Line {line} has a price below zero.',
    nextStep: 'Write the full price, and what is taken off under "less".',
  },
  INVOICE_LINE_TOO_LARGE: {
    sentence: 'Line {line} is larger than any invoice.',
    nextStep: 'Look at its quantity and price.',
  },
  INVOICE_TAX_RATE_OUTSIDE: {
    sentence: 'Line {line} has a tax rate of {rate} %; a rate lies between 0 and 100 %.',
    nextStep: 'Write the rate as a percentage, such as 5.6.',
  },
  INVOICE_LINE_ALLOWANCE_ABOVE_LINE: {
    sentence: 'Line {line} takes off {allowance}, and comes to {before} before that.',
    nextStep: 'Take off at most what the line comes to.',
  },
  INVOICE_ALLOWANCE_ABOVE_LINES: {
    sentence: 'The invoice takes off {allowance}, and its lines come to {together}.',
    nextStep: 'Take off nothing below zero, and at most what the lines come to.',
  },
  INVOICE_WRONG_SUM: {
    sentence: 'The foot of this invoice does not add up, so it was not issued: {complaint}',
    nextStep: 'Nothing was changed. Open the draft, save it again, and issue it then.',
  },
  CREDIT_NOTHING_CHOSEN: {
    sentence: 'Nothing is chosen to be given back.',
    nextStep: 'Give a quantity on at least one line.',
  },
  CREDIT_ABOVE_INVOICED: {
    sentence: 'Line {line} would give back {wanted}; {left} is left of what was invoiced.',
    nextStep: 'Give back at most what is left.',
  },
  CREDIT_NOTHING_LEFT: {
    sentence: 'All of {number} has been given back already.',
    nextStep: 'Look at the credit notes under it.',
  },
  CREDIT_OF_CREDIT_NOTE: { sentence: '{number} is itself a credit note.', nextStep: 'Write a new invoice instead.' },
  PAYMENT_NOT_ABOVE_ZERO: { sentence: 'A payment is more than nothing.', nextStep: 'Write the amount that came in.' },
  PAYMENT_ABOVE_OWED: {
    sentence: '{customer} owes {owed}; {above} of this payment would be left over.',
    nextStep: 'Write what is owed, or keep the rest as credit for the next invoice.',
  },
  PAYMENT_IN_FUTURE: { sentence: '{date} has not come yet.', nextStep: 'Give the day on which the money came in.' },
  PAYMENT_UNDONE: {
    sentence: 'This payment has been undone already.',
    nextStep: 'Record it again if the money did come in.',
  },

  // settings
  SETTING_NOT_LIKE_THIS: {
    sentence: '{setting}: {why}',
    nextStep: 'Put it right, or go back to the usual value, {usual}.',
  },
  SETTING_CHANGED: {
    sentence: '{setting} was changed to {now} since you opened it.',
    nextStep: 'Look at the new value, then change it again if you still want to.',
  },
  TECHNICIAN_HAS_VISITS: {
    sentence: '{technician} still has {visits} booked from {date} on.',
    nextStep: 'Move those visits to someone else first.',
  },
} as const satisfies Record<string, { sentence: string; nextStep: string }>

export type ProblemCode = keyof typeof PROBLEMS
export const PROBLEM_CODES = Object.keys(PROBLEMS) as ProblemCode[]

/** A "no" that the user sees: code, sentence, next step. */
export interface Problem {
  readonly code: ProblemCode
  readonly sentence: string
  readonly nextStep: string
}

export const problemSchema = z.object({
  code: z.enum(PROBLEM_CODES as [ProblemCode, ...ProblemCode[]]),
  sentence: z.string(),
  nextStep: z.string(),
})

/** Composes a problem. Throws when a fact that the sentence names is not given: that would be a bug. */
export function problem(code: ProblemCode, facts: Readonly<Record<string, string | number>> = {}): Problem {
  const fill = (text: string): string =>
    text.replace(/\{(\w+)\}/g, (_, name: string) => {
      const fact = facts[name]
      if (fact === undefined) throw new Error(`${code} needs the fact "${name}"`)
      return String(fact)
    })
  return { code, sentence: fill(PROBLEMS[code].sentence), nextStep: fill(PROBLEMS[code].nextStep) }
}
