import { type Labelled, labelWords, type PartBars } from '../../core/stock/label-words.ts'
import { type LabelsToPrint, shiftOf, writeLabels } from '../../core/stock/labels-paper.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'

export const labelFacts = (pageSize: 'letter' | 'a4') => ({
  title: 'Labels',
  officeName: 'Larkmoor Water',
  locale: 'en-US',
  pageSize,
  printedOn: calendarDate('2026-12-01'),
  madeAt: '2026-12-01T12:00:00.000Z',
})

export const aLotLabel = (own: Partial<Extract<Labelled, { kind: 'lot' }>> = {}): Labelled => ({
  kind: 'lot',
  number: 'P-1005',
  name: 'Sediment filter, 5 micron, 10 in',
  gtin: '',
  lot: '2608-114',
  expiresOn: calendarDate('2028-08-31'),
  recalled: false,
  ...own,
})

/** Labels as a PDF, one each. */
export async function labelsAsPdf(
  pageSize: 'letter' | 'a4',
  labels: readonly Labelled[],
  own: Partial<LabelsToPrint> & { readonly partBars?: PartBars } = {},
): Promise<Uint8Array> {
  const chunks: Uint8Array[] = []
  const print = {
    labels: labels.map((each) => ({ words: labelWords(each, 'en-US', own.partBars ?? 'own'), count: 1 })),
    beginWith: 1,
    shift: shiftOf(0, 0),
    ...own,
  }
  await writeLabels(print, labelFacts(pageSize), {
    write: (bytes) => {
      chunks.push(bytes)
    },
  })
  return Buffer.concat(chunks)
}
