import type { PaperAnswer } from '../answering.ts'
import { ok, refused } from '../result.ts'
import { findOffice } from '../settings/office-store.ts'
import { readSettings } from '../settings/settings-store.ts'
import { writeCountSheet } from './count-sheet-paper.ts'
import { findCount, linesOfCount } from './stock-counts-store.ts'

/** `/papers/counts/12.pdf`: the sheet to count on. */
export const countPaper: PaperAnswer = {
  address: '/papers/counts/:round',
  make: async (desk, { round = '' }) => {
    const countId = Number(round)
    if (!Number.isSafeInteger(countId) || countId <= 0) return refused('PAPER_UNKNOWN')
    const count = await findCount(desk.read, desk.officeId, countId)
    if (!count) return refused('COUNT_GONE')
    const settings = await readSettings(desk.read, desk.officeId)
    const office = await findOffice(desk.read, desk.officeId)
    const rows = await linesOfCount(desk.read, desk.officeId, countId)
    const lines = rows.map(({ place, part, number, lot, expiresOn }) => ({
      place,
      part,
      number,
      lot,
      expiresOn,
    }))
    const facts = {
      officeName: office?.name ?? '',
      locale: settings.locale,
      pageSize: settings.pageSize,
      printedOn: desk.today,
      madeAt: desk.now,
    }
    return ok({
      fileName: `count-${countId}.pdf`,
      contentType: 'application/pdf',
      write: async (sink) => {
        await writeCountSheet({ name: count.name, on: count.on, lines }, facts, sink)
      },
    })
  },
}
