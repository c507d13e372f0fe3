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
  WORK_STOPPED_HALF_WAY: {
    sentence: 'The work was stopped half way.',
    nextStep: 'What was done until then stays. Start it again for the rest.',
  },

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
  STOCK_DATE_TO_COME: {
    sentence: 'What will be there on {date} nobody knows yet.',
    nextStep: 'Choose today or a day before it.',
  },
  STOCK_SENT_TO_TRANSIT: {
    sentence: '{place} is only for what is on the way.',
    nextStep: 'Choose the bin or the van where the pieces are to arrive.',
  },
  STOCK_NOT_ON_THE_WAY: {
    sentence: 'Of lot {lot}, {there} are on the way to {place}; {wanted} cannot arrive.',
    nextStep: 'Look at what is on the way; somebody may have taken it in already.',
  },
  STOCK_STILL_RECALLED: {
    sentence: 'Lot {lot} is recalled; it does not go back to {place}.',
    nextStep: 'Free the lot again first, or give it back to the supplier.',
  },
  COUNT_GONE: { sentence: 'There is no such round of counting.', nextStep: 'Go back to the rounds.' },
  COUNT_ENDED: {
    sentence: 'This round was {state} by {by} on {date}.',
    nextStep: 'Begin another round for what is still to be counted.',
  },
  COUNT_NAME_TAKEN: {
    sentence: 'A round called {name} is open already.',
    nextStep: 'Go on with that one, or give this one another name.',
  },
  COUNT_NOTHING_THERE: {
    sentence: 'There is nothing to count here that no open round has already.',
    nextStep: 'Choose another part of the warehouse, or go on with the open round.',
  },
  COUNT_LINE_ELSEWHERE: {
    sentence: 'Lot {lot} in {place} is being counted in the round {name} already.',
    nextStep: 'Write the count down there.',
  },
  COUNT_WRITTEN_DOWN: {
    sentence: '{by} wrote down {counted} for lot {lot} in {place} meanwhile.',
    nextStep: 'Look at it together; write it down once more if yours is right.',
  },
  COUNT_TAKEN_AWAY: {
    sentence: 'The count of lot {lot} in {place} was taken away meanwhile: it is to be counted again.',
    nextStep: 'Count it once more and write it down.',
  },
  COUNT_LINE_HERE: {
    sentence: 'Lot {lot} in {place} is in this round already.',
    nextStep: 'Write the count down on its own line.',
  },
  COUNT_LOT_UNKNOWN: {
    sentence: 'No lot {lot} of {part} was ever in the books.',
    nextStep: 'Read the label again; if it says so, write it down as a new lot.',
  },
  COUNT_NOT_FINISHED: {
    sentence: '{left} of this round still to be counted.',
    nextStep: 'Count them, or leave them out: they stay as the books say.',
  },
  COUNT_EMPTY: {
    sentence: 'Nothing was counted in this round.',
    nextStep: 'Count something first, or drop the round.',
  },
  COUNT_OVERTAKEN: {
    sentence: 'Lot {lot} in {place}: {counted} were counted, but {left} left by the books since.',
    nextStep: 'Count this one again; the rest of the round stays as it is.',
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
  STOCK_LOT_RECALLED: {
    sentence: 'Lot {lot} of {part} is recalled; no more of it goes on a shelf.',
    nextStep: 'Receive it into quarantine, or send it back with who brought it.',
  },
  LABELS_TOO_MANY: {
    sentence: '{labels} labels are more than are printed at once: {most} in all, {mostOfOne} of one.',
    nextStep: 'Print them in several goes.',
  },
  WALK_CHANGED: {
    sentence: 'Somebody changed the bins or the walk since you opened it.',
    nextStep: 'Look at the walk as it is now, and order it once more.',
  },
  GTIN_WRONG: {
    sentence: 'The GTIN {gtin} does not add up: {why}.',
    nextStep: 'Read it off the box once more, or scan it.',
  },
  GTIN_TAKEN: {
    sentence: 'The GTIN {gtin} belongs to {part}, {number}.',
    nextStep: 'Look at both boxes; a GTIN is of one part only.',
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
  LOT_RECALLED: {
    sentence: 'Lot {lot} of {part} is recalled: it does not go to {place}.',
    nextStep: 'Put it into quarantine, or give it back to the supplier.',
  },
  LOT_NOT_RECALLED: {
    sentence: 'Lot {lot} of {part} is not recalled.',
    nextStep: 'Recall it first; somebody may have freed it meanwhile.',
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
    sentence: 'This pull was put on {van} already, {ago}, by {by}.',
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
  PULL_LINE_CHANGED: {
    sentence: 'This line was changed meanwhile{by}: {now}.',
    nextStep: 'Look at it as it stands now, then tick it again if you still want to.',
  },
  PULL_LINE_GONE: {
    sentence: 'This line is not on the list any more: what it asked for was promised anew, or the visit was moved.',
    nextStep: 'Put back what you took for it, and go on with the list as it stands now.',
  },
  PULL_LOT_RECALLED: {
    sentence: 'Lot {lot} of {part} is recalled.',
    nextStep: 'Do not put it in a tote. Set it aside, and say on the line that it is not there to take.',
  },
  PULL_LOT_EXPIRED: {
    sentence: 'Lot {lot} of {part} is past its date on the day of the visits: {date}.',
    nextStep: 'Do not put it in a tote. Set it aside, and say on the line that it is not there to take.',
  },
  PULL_SCAN_UNKNOWN: {
    sentence: 'Nothing in the books is called {typed}: no part, no lot, no bin.',
    nextStep: 'Scan it once more, or type what stands under the bars.',
  },
  PULL_SCAN_SPOILT: {
    sentence: 'The code {typed} was not read whole; its digits do not add up.',
    nextStep: 'Scan it once more, closer and straight, or type the lot from the label.',
  },
  PULL_SCAN_OTHER_PART: {
    sentence: '{part} is not on this list.',
    nextStep: 'Put it back on the shelf. {next}',
  },
  PULL_SCAN_OTHER_LOT: {
    sentence: 'This is lot {lot} of {part}; the list asks for lot {wanted} from {bin}.',
    nextStep: 'Take the other lot. When it is not there, say that this one lies in its place.',
  },
  PULL_SCAN_LOT_UNKNOWN: {
    sentence: 'Lot {lot} of {part} is in no book of ours.',
    nextStep: 'Look at the label again. When it is right, the lot was never received: leave it out of the totes.',
  },
  PULL_SCAN_OVER: {
    sentence: 'All {quantity} of {part} are in the totes already.',
    nextStep: 'Put this one back on the shelf. {next}',
  },
  PULL_SCAN_BIN_EMPTY: { sentence: 'Nothing on this list lies in {bin}.', nextStep: '{next}' },
  PULL_FOUND_NOT_FEWER: {
    sentence: 'The line asks for {quantity}, and {found} are not fewer.',
    nextStep: 'Tick the line when all of it is there.',
  },
  PULL_FOUND_TOO_MANY: {
    sentence: 'The line asks for {quantity}; {pieces} cannot be of it.',
    nextStep: 'Write a number up to {quantity}.',
  },
  PULL_FOUND_SAME_PLACE: {
    sentence: 'Lot {lot} in {bin} is what the line asks for already.',
    nextStep: 'Tick it off, or choose the bin and the lot where the pieces lie.',
  },
  PULL_FOUND_OTHER_PART: {
    sentence: '{part} may not stand in for {asked}.',
    nextStep: 'Choose a lot of the part itself, or of one that may take its place.',
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
  ORDER_OVER: {
    sentence: 'Of {part} {ordered} were ordered and {open} are still awaited; {came} came.',
    nextStep: 'Take all {came} and count them on this order, or take in {open} and send {over} back.',
  },
  ORDER_LINE_MEANWHILE: {
    sentence: 'Somebody received {part} on this order while you were typing: {now} of {ordered} have come by now.',
    nextStep: 'Look whether it is the same delivery. Nothing of yours was written; receive what is left.',
  },
  ORDER_NOTHING_CAME: {
    sentence: 'No piece is written down for this delivery.',
    nextStep: 'Write what came on at least one line.',
  },
  ORDER_NOTHING_OPEN: {
    sentence: 'Nothing is open on order {number} that could be given up.',
    nextStep: 'Look at what has come; somebody may have closed it meanwhile.',
  },
  ORDER_NOTHING_GIVEN_UP: {
    sentence: 'Nothing of order {number} was given up.',
    nextStep: 'Draft another order for what is missing.',
  },
  ORDER_NEEDS_REASON: { sentence: 'The reason is missing.', nextStep: 'Write in a few words why.' },
  ORDER_EXPECTED_PAST: {
    sentence: 'Order {number} cannot be expected on {date}: that day is past.',
    nextStep: 'Ask the supplier for a day that is still to come.',
  },
  ORDER_PART_NOT_SOLD: {
    sentence: '{supplier} does not sell {part} by our books.',
    nextStep: 'Write down its terms at the part first, or order it elsewhere.',
  },
  ORDER_PART_TWICE: {
    sentence: '{part} stands on this order twice.',
    nextStep: 'Write all its pieces on one line.',
  },
  ORDER_INTO_QUARANTINE: {
    sentence: 'Good pieces of {part} go into a bin, not into {place}.',
    nextStep: 'Choose a bin; write the damaged ones under damaged.',
  },
  SUPPLIER_CLOSED: {
    sentence: 'Nothing is ordered of {supplier} any more.',
    nextStep: 'Take the supplier into use again, or order elsewhere.',
  },
  TERM_BREAK_TWICE: {
    sentence: 'Two prices begin at {from} pieces.',
    nextStep: 'Keep the one that holds.',
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
  RECALL_NOBODY_TO_WRITE: {
    sentence: 'No household is owed a letter about lot {lot}.',
    nextStep: 'Whoever can be written to was; look at whom to ring up.',
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
