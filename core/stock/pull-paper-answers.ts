import type { Desk, PaperAnswer, PaperSink } from '../answering.ts'
import { ok, refused } from '../result.ts'
import { findOffice } from '../settings/office-store.ts'
import { readSettings } from '../settings/settings-store.ts'
import { type CalendarDate, calendarDate, isCalendarDate } from '../units/calendar-date.ts'
import { writePickListPaper } from './pick-list-paper.ts'
import type { PullDay } from './pull-contract.ts'
import { pullDay } from './show-pull-answers.ts'

/** The day's pick list and the way to write it: for the address, and for the night's papers. */
export async function pickListPaper(
  desk: Desk,
  on: CalendarDate,
): Promise<{ readonly day: PullDay; readonly write: (sink: PaperSink) => Promise<void> }> {
  const settings = await readSettings(desk.read, desk.officeId)
  const office = await findOffice(desk.read, desk.officeId)
  const day = await pullDay(desk, on)
  const facts = {
    officeName: office?.name ?? '',
    locale: settings.locale,
    pageSize: settings.pageSize,
    printedOn: desk.today,
    madeAt: desk.now,
  }
  return {
    day,
    write: async (sink) => {
      await writePickListPaper(day, facts, sink)
    },
  }
}

/** `/papers/pull/2026-12-02.pdf`. */
export const pullPaper: PaperAnswer = {
  address: '/papers/pull/:day',
  make: async (desk, { day = '' }) => {
    if (!isCalendarDate(day)) return refused('PAPER_UNKNOWN')
    const paper = await pickListPaper(desk, calendarDate(day))
    return ok({ fileName: `pull-${day}.pdf`, contentType: 'application/pdf', write: paper.write })
  },
}
