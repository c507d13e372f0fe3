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
  DATABASE_OPEN_ELSEWHERE: {
    sentence: 'Another Penstock on this machine has these books open.',
    nextStep:
      'Turn to its window. When there is none, close the program it runs in, or wait until the day’s papers are written.',
  },
  DATABASE_AS_BEFORE: {
    sentence:
      'These books come from an older Penstock (step {step}) and could not be brought up to date. They are as they were.',
    nextStep: 'Open them with the Penstock that kept them until now. The log, penstock.log, says what was in the way.',
  },
  OFFICE_EXISTS: { sentence: 'These books already have an office.', nextStep: 'Open it, or start with new books.' },
  WORK_UNKNOWN: { sentence: 'There is no such work to do.', nextStep: 'Go back and start it again from its screen.' },
  WORK_GONE: { sentence: 'That work is over and forgotten.', nextStep: 'Look at the list to see what it did.' },
  PAPER_UNKNOWN: { sentence: 'There is no paper at this address.', nextStep: 'Open it again from its screen.' },
  WORK_STOPPED: { sentence: 'The work was stopped.', nextStep: 'Nothing was changed. Start it again when you like.' },

  // backups
  BACKUP_NO_FILE: {
    sentence: 'These books have no file of their own.',
    nextStep: 'Back them up where they lie: on the database server, with its own means.',
  },
  BACKUP_GONE: { sentence: 'The backup {name} is no longer there.', nextStep: 'Choose another one.' },
  BACKUP_DAMAGED: {
    sentence: 'The backup {name} does not pass its check.',
    nextStep: 'Choose another one; the books were left as they are.',
  },

  // lists to import
  IMPORT_FILE_EMPTY: {
    sentence: '{file} is empty.',
    nextStep: 'Save the list from the spreadsheet again as CSV, and bring that file.',
  },
  IMPORT_FILE_NO_LIST: {
    sentence: '{file} is {what}, not a list.',
    nextStep: 'Open it in a spreadsheet, save it as CSV, and bring that file.',
  },
  IMPORT_FILE_TOO_LARGE: {
    sentence: '{file} is larger than {most} MB.',
    nextStep: 'Split the list in the spreadsheet and bring the parts one after the other.',
  },
  IMPORT_TOO_MANY_ROWS: {
    sentence: '{file} has more than {most} rows.',
    nextStep: 'Split the list in the spreadsheet and bring the parts one after the other.',
  },
  IMPORT_FILE_NOT_WHOLE: {
    sentence: '{file} did not arrive whole; nothing of it was read.',
    nextStep: 'Bring it once more.',
  },
  IMPORT_ONE_COLUMN: {
    sentence: '{file} has one column only, whichever sign is taken to part the cells.',
    nextStep: 'Save it as CSV with commas, semicolons or tabs, one household or one stage a row.',
  },
  IMPORT_NO_ROWS: {
    sentence: '{file} has a header and no row under it.',
    nextStep: 'See whether the right sheet was saved, and bring it again.',
  },
  IMPORT_FILE_GONE: {
    sentence: 'That list is no longer held here.',
    nextStep: 'Bring the file again; nothing was written from it.',
  },
  IMPORT_MAPPING_OPEN: { sentence: '{gap}', nextStep: 'Go back to the columns and say what they hold.' },
  IMPORT_CHANGED: {
    sentence: 'The books changed since the list was looked through.',
    nextStep: 'Look through it again; nothing was written.',
  },
  IMPORT_NOTHING: {
    sentence: 'No household of the list would be taken in.',
    nextStep: 'Choose what to do with at least one of them.',
  },
  IMPORT_NO_OFFICE: { sentence: 'No office is in the books yet.', nextStep: 'Say what the office is called first.' },

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
  ROUTE_DAY_CHANGED: {
    sentence: 'The visits of {date} changed while you were ordering them.',
    nextStep: 'Look at the day as it is now, then order it again.',
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

  // units
  UNIT_DATE_AHEAD: {
    sentence: '{what} on {date}: that day has not come.',
    nextStep: 'Give the day on which it was done. What is still to be done belongs on a visit.',
  },
  UNIT_OWN_DATE_OVER: {
    sentence: 'The date set by hand for {what} would have ended on {date}.',
    nextStep: 'Give an end that is still to come, or leave it blank.',
  },

  // readings
  READING_NOT_A_NUMBER: {
    sentence: '{what}: “{typed}” is not a figure.',
    nextStep: 'Write digits, such as 412 or 6.8.',
  },
  READING_BELOW_ZERO: { sentence: '{what} cannot be below zero.', nextStep: 'Look at the figure again.' },
  READING_BEYOND_METERS: {
    sentence: '{what}: “{typed}” is beyond what any meter shows.',
    nextStep: 'Look at the figure and its unit again.',
  },
  READING_ZERO_FEED: {
    sentence: 'No feed water measures 0 mg/L.',
    nextStep: 'Measure the feed again, or leave it blank.',
  },
  READING_PRODUCT_ABOVE_FEED: {
    sentence: 'The product ({out}) cannot hold more than the feed ({in}).',
    nextStep: 'See whether the two are swapped; measure ahead of the mineral cartridge.',
  },
  READING_METER_BELOW: {
    sentence: 'The meter stood at {earlier} the last time; it cannot stand at {now}.',
    nextStep: 'Look at the figure again. Where a new meter was fitted, write 0: it counts from there.',
  },
  READING_EMPTY: { sentence: 'Nothing was measured.', nextStep: 'Write at least one figure.' },
  READING_IN_FUTURE: {
    sentence: '{date} has not come yet, so nothing can have been measured then.',
    nextStep: 'Give the day on which it was measured.',
  },
  READING_NEEDS_REASON: {
    sentence: 'The reason for striking this reading out is missing.',
    nextStep: 'Write in a few words what is wrong with it.',
  },
  READING_STRUCK: { sentence: 'This reading is {state}.', nextStep: 'Look at it again; somebody was quicker.' },
  READING_UNLIKELY: { sentence: '{question}', nextStep: 'Measure again, or confirm that the figure is right.' },
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
  INVOICE_NONE_OF_DAY: {
    sentence: 'No invoice was issued on {date}.',
    nextStep: 'Choose another day, or issue the drafts first.',
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
  CREDIT_NOTE_NOT_EDITED: {
    sentence: 'A credit note follows the lines of its invoice and is not edited.',
    nextStep: 'Drop it and write another one, with the lines and quantities that you want.',
  },
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

  // stock
  STOCK_COUNT_NOT_WHOLE: {
    sentence: 'A count of {counted} is not a number of pieces.',
    nextStep: 'Write what lies there: 0, or a whole number above.',
  },
  STOCK_COUNT_CHANGED: {
    sentence: 'While you were counting, the books moved: they said {seen} for this lot, now they say {now}.',
    nextStep: 'Look at what was moved, and count once more if it touched the shelf.',
  },
  STOCK_PIECES_NOT_WHOLE: {
    sentence: '{pieces} is not a number of pieces to move.',
    nextStep: 'Write a whole number above 0.',
  },
  STOCK_SHORT: {
    sentence: 'The books say {place} holds {there} of lot {lot}; {wanted} cannot leave it.',
    nextStep: 'Take fewer, or count that place first.',
  },
  STOCK_PROMISED: {
    sentence: 'Of the {there} of lot {lot} in {place}, {promised} are promised to a pull.',
    nextStep: 'Take at most {free}, or take back the pull first.',
  },
  STOCK_SAME_PLACE: {
    sentence: 'The pieces lie in {place} already.',
    nextStep: 'Choose another place to move them to.',
  },
  STOCK_EXPIRY_PAST: {
    sentence: 'The date on lot {lot} is past: {date}.',
    nextStep: 'Look at the label again. Expired pieces go back to the supplier; they are not received.',
  },
  STOCK_EXPIRY_MISSING: {
    sentence: '{part} keeps for {months} months, so lot {lot} has a date on it.',
    nextStep: 'Write the date from the label.',
  },
  STOCK_LOT_KNOWN: {
    sentence: 'Lot {lot} of {part} was received on {date} already, {pieces} pieces.',
    nextStep: 'If more of the same lot came in today, receive it as a further delivery.',
  },
  STOCK_LOT_OTHER_EXPIRY: {
    sentence: 'Lot {lot} of {part} is in the books with the date {known}, not {typed}.',
    nextStep: 'Look at both labels; if they do differ, give this delivery a lot number of its own.',
  },
  STOCK_LOT_NAMELESS: {
    sentence: 'The lot number is missing.',
    nextStep: 'Write what stands on the box; where nothing does, the day of delivery will do.',
  },
  STOCK_MOVEMENT_CORRECTED: {
    sentence: 'This movement was put right already.',
    nextStep: 'Look at the movements that follow it.',
  },
  STOCK_MOVEMENT_OF_VISIT: {
    sentence: 'This movement belongs to a visit.',
    nextStep: 'Correct the record of the visit; the pieces follow.',
  },
  STOCK_REASON_MISSING: { sentence: 'The reason is missing.', nextStep: 'Write in a few words why.' },
  STOCK_FITTED_FROM_NOWHERE: {
    sentence:
      'The books say {place} holds {there} of {part}{lot}; {wanted} fitted cannot have come from it.{elsewhere}',
    nextStep: 'Say where the pieces came from, or count that place first.',
  },
  STOCK_LOT_NOT_OF_PART: {
    sentence: 'Lot {lot} is a lot of {is}, not of {part}.',
    nextStep: 'Look at the part and the lot again.',
  },
  STOCK_LOT_UNCHANGED: {
    sentence: 'Lot {lot} is {state} already.',
    nextStep: 'Look at the lot; somebody was quicker.',
  },
  PART_NUMBER_TAKEN: {
    sentence: 'Part number {number} belongs to {part}.',
    nextStep: 'Give this part another number, or open that one.',
  },
  PART_OWN_SUBSTITUTE: {
    sentence: 'A part cannot stand in for itself.',
    nextStep: 'Choose another part, or none.',
  },
  BIN_CODE_TAKEN: { sentence: 'There is a place called {code} already.', nextStep: 'Give it another name.' },
  PLACE_NOT_EMPTY: {
    sentence: '{place} still holds {pieces}.',
    nextStep: 'Move them elsewhere first.',
  },
  PLACE_CLOSED: { sentence: '{place} is not in use any more.', nextStep: 'Choose another place.' },
  VAN_TECHNICIAN_HAS_ONE: {
    sentence: '{technician} drives {van} already.',
    nextStep: 'Take that van from them first, or choose somebody else.',
  },

  // pulls
  PULL_NOTHING_TO_PULL: {
    sentence: 'Nothing is left to pull for {van} on {date}.',
    nextStep: 'Look at what is short; it can be pulled when it has come in.',
  },
  PULL_NOTHING_TICKED: {
    sentence: 'Nothing is ticked yet, so there is nothing to put on {van}.',
    nextStep: 'Tick what lies in the totes, or take the pull back.',
  },
  PULL_CONFIRMED: {
    sentence: 'This pull was put on {van} already, at {at} by {by}.',
    nextStep: 'Nothing was moved twice. What is still missing can be pulled anew.',
  },
  PULL_TAKEN_BACK: {
    sentence: 'This pull was taken back.',
    nextStep: 'Begin it anew; what was promised is free again.',
  },
  PULL_TICK_TOO_MANY: {
    sentence: 'This line asks for {quantity}; {pulled} were ticked.',
    nextStep: 'Put the rest back on the shelf, and tick what the line asks for.',
  },
  PULL_DATE_PAST: { sentence: '{date} is past.', nextStep: 'Choose today or a later day.' },

  // orders
  ORDER_EMPTY: { sentence: 'The order asks for nothing.', nextStep: 'Write a number of pieces on at least one line.' },
  ORDER_NOT_DRAFT: {
    sentence: 'Order {number} is {state}, so its lines stand.',
    nextStep: 'Draft another order for what is missing.',
  },
  ORDER_NOT_SENT: {
    sentence: 'Order {number} is {state}; nothing is awaited from it.',
    nextStep: 'Receive these pieces without an order, or send it first.',
  },
  ORDER_LINE_DONE: {
    sentence: '{ordered} of {part} were ordered and {received} have come; {more} more cannot be received on this line.',
    nextStep: 'Receive the rest without the order, or look at the number again.',
  },
  SUPPLIER_NAME_TAKEN: { sentence: 'There is a supplier called {name} already.', nextStep: 'Open that one instead.' },
  SUPPLIER_HAS_ORDERS: {
    sentence: '{supplier} still owes us {orders}.',
    nextStep: 'Receive or cancel them first.',
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

  // letters
  LETTER_FIELD_UNKNOWN: {
    sentence: 'There is no field called "{field}".',
    nextStep: 'The fields are {fields}. Write one of them, or take the braces away.',
  },
  LETTER_BRACE_OPEN: {
    sentence: 'A brace stands alone in this wording.',
    nextStep: 'A field stands in two braces, such as {example}. Close it, or take the brace away.',
  },
  LETTERS_NONE_OWED: {
    sentence: 'None of the chosen households is owed this letter any more.',
    nextStep: 'Somebody else may have written it a moment ago: look at the runs below.',
  },
  LETTER_RUN_GONE: { sentence: 'There is no such run of letters.', nextStep: 'Go back to the list of runs.' },
  LETTER_RUN_TAKEN_BACK: {
    sentence: 'This run was taken back on {date}.',
    nextStep: 'Its letters count as never written; write them anew from the list.',
  },
  LETTER_NOTHING_DUE: {
    sentence: 'Nothing is due at this household, so there is nothing to write about.',
    nextStep: 'Look at its due dates first.',
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
