import { implement } from '@orpc/server'
import { answer, type Desk, type PaperAnswer } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import type { OfficeSettings } from '../settings/office-settings.ts'
import { findOffice } from '../settings/office-store.ts'
import { readSettings } from '../settings/settings-store.ts'
import { shortDate } from '../units/date-words.ts'
import { lotIdSchema, partIdSchema, placeIdSchema } from '../units/ids.ts'
import { previewOf } from '../units/page-picture-shape.ts'
import { type DeliveredLot, findDelivery, lotsOfDelivery } from './delivered-lots-store.ts'
import { labelLayout } from './label-layout.ts'
import { type LabelKind, type LabelOrder, MOST_LABELS, MOST_OF_ONE, orderOfAddress } from './label-order.ts'
import { labelSheet, labelsOnSheet } from './label-sheet.ts'
import { type Labelled, type LabelWords, labelNote, labelWords } from './label-words.ts'
import { type LabelPreview, type LabelSource, labelsContract } from './labels-contract.ts'
import { type LabelsToPrint, pictureLabels, shiftOf, writeLabelFrames, writeLabels } from './labels-paper.ts'
import { binsForLabels, lotsForLabels, partsForLabels } from './labels-store.ts'

const SHOWN = 50

async function find(
  desk: Desk,
  { kind, words: typed }: { kind: LabelKind; words: string },
): Promise<Result<{ sources: LabelSource[]; more: boolean }>> {
  const which = { words: typed.split(/\s+/).filter(Boolean), limit: SHOWN + 1 }
  const { read, officeId } = desk
  const found =
    kind === 'lot'
      ? (await lotsForLabels(read, officeId, which)).map(lotSource)
      : kind === 'part'
        ? (await partsForLabels(read, officeId, which)).map(partSource)
        : (await binsForLabels(read, officeId, which)).map(binSource)
  return ok({ sources: found.slice(0, SHOWN), more: found.length > SHOWN })
}

const lotSource = (lot: DeliveredLot): LabelSource => ({
  kind: 'lot',
  id: lot.lotId,
  title: lot.number,
  lot: lot.lot,
  line: lot.name,
  pieces: lot.pieces,
})
const partSource = (part: Awaited<ReturnType<typeof partsForLabels>>[number]): LabelSource => ({
  kind: 'part',
  id: part.partId,
  title: part.number,
  lot: '',
  line: part.name,
  pieces: part.pieces,
})
const binSource = (bin: Awaited<ReturnType<typeof binsForLabels>>[number]): LabelSource => ({
  kind: 'bin',
  id: bin.placeId,
  title: bin.bin,
  lot: '',
  line: bin.aisle,
  pieces: bin.pieces,
})

async function ofPart(desk: Desk, input: { partId: number }): Promise<Result<LabelSource[]>> {
  const { read, officeId } = desk
  const partId = partIdSchema.parse(input.partId)
  const which = { words: [], limit: SHOWN, partId }
  const [part] = await partsForLabels(read, officeId, { ids: [partId] })
  if (!part) return refused('RECORD_GONE', { what: 'This part' })
  return ok([...(await lotsForLabels(read, officeId, which)).map(lotSource), partSource(part)])
}

async function ofDelivery(
  desk: Desk,
  { receiptId }: { receiptId: number },
): Promise<Result<{ words: string; sources: LabelSource[] }>> {
  const { read, officeId } = desk
  const delivery = await findDelivery(read, officeId, receiptId)
  if (!delivery) return refused('RECORD_GONE', { what: 'This delivery' })
  const { locale } = await readSettings(read, officeId)
  const lots = await lotsOfDelivery(read, officeId, receiptId)
  const order = delivery.orderNumber === null ? '' : ` on order ${delivery.orderNumber}`
  return ok({
    words: `the delivery of ${shortDate(delivery.receivedOn, locale)}${order}`,
    sources: lots.map(lotSource),
  })
}

async function preview(desk: Desk, order: LabelOrder): Promise<Result<LabelPreview>> {
  const settings = await readSettings(desk.read, desk.officeId)
  const sheet = labelSheet(settings.pageSize)
  const onSheet = labelsOnSheet(sheet)
  const ready = await readyToPrint(desk, settings, order)
  if (!ready.ok) return ready
  const { print, notes } = ready.value
  const labels = print.labels.reduce((sum, each) => sum + each.count, 0)
  const facts = await factsOf(desk, settings)
  const drawn = labels > 0 ? await pictureLabels(print, facts) : null
  const missing = drawn && drawn.missing.length > 0 ? [`Not in the typeface: ${drawn.missing.join(' ')}.`] : []
  const past = print.beginWith - 1 + labels
  return ok({
    labels,
    sheets: labels === 0 ? 0 : Math.ceil(past / onSheet),
    onSheet,
    across: sheet.across,
    nextBegin: (past % onSheet) + 1,
    picture: drawn ? previewOf(drawn.picture) : null,
    notes: [...notes, ...missing],
    shift: { rightMm: settings.labelShiftRightMm, downMm: settings.labelShiftDownMm },
  })
}

/** What is asked for with what stands on it; what is no longer in the books is refused, and so is more than anybody prints at once. */
async function readyToPrint(
  desk: Desk,
  settings: OfficeSettings,
  order: LabelOrder,
): Promise<Result<{ print: LabelsToPrint; notes: string[] }>> {
  const all = order.wanted.reduce((sum, each) => sum + each.count, 0)
  if (all > MOST_LABELS || order.wanted.some((each) => each.count < 1 || each.count > MOST_OF_ONE))
    return refused('LABELS_TOO_MANY', { labels: all, most: MOST_LABELS, mostOfOne: MOST_OF_ONE })
  const of = await labelledThings(desk, order)
  const sheet = labelSheet(settings.pageSize)
  const labels: { words: LabelWords; count: number }[] = []
  const notes = new Set<string>()
  for (const { kind, id, count } of order.wanted) {
    const thing = of.get(`${kind} ${id}`)
    if (!thing) return refused('RECORD_GONE', { what: `The ${kind} of a label` })
    const words = labelWords(thing, settings.locale, order.partBars)
    const note = labelNote(thing, labelLayout(sheet, words).rows.length)
    if (note !== null) notes.add(note)
    labels.push({ words, count })
  }
  const beginWith = Math.min(order.beginWith, labelsOnSheet(sheet))
  const shift = shiftOf(settings.labelShiftRightMm, settings.labelShiftDownMm)
  return ok({ print: { labels, beginWith, shift }, notes: [...notes] })
}

async function labelledThings(desk: Desk, { wanted }: LabelOrder): Promise<Map<string, Labelled>> {
  const { read, officeId } = desk
  const idsOf = (kind: LabelKind): number[] => wanted.filter((each) => each.kind === kind).map((each) => each.id)
  const things = new Map<string, Labelled>()
  for (const lot of await lotsForLabels(read, officeId, { ids: lotIdSchema.array().parse(idsOf('lot')) })) {
    const { lotId, recalledOn, ...words } = lot
    things.set(`lot ${lotId}`, { kind: 'lot', ...words, recalled: recalledOn !== null })
  }
  for (const { partId, ...words } of await partsForLabels(read, officeId, {
    ids: partIdSchema.array().parse(idsOf('part')),
  }))
    things.set(`part ${partId}`, { kind: 'part', ...words })
  for (const { placeId, ...words } of await binsForLabels(read, officeId, {
    ids: placeIdSchema.array().parse(idsOf('bin')),
  }))
    things.set(`bin ${placeId}`, { kind: 'bin', ...words })
  return things
}

async function factsOf(desk: Desk, settings: OfficeSettings) {
  const office = await findOffice(desk.read, desk.officeId)
  return {
    title: 'Labels',
    officeName: office?.name ?? '',
    locale: settings.locale,
    pageSize: settings.pageSize,
    printedOn: desk.today,
    madeAt: desk.now,
  }
}

/** `/papers/labels.pdf?of=lot-12x3&from=4`, and the frames to hold against a sheet. */
export const labelPapers: readonly PaperAnswer[] = [
  {
    address: '/papers/labels',
    make: async (desk, _, query) => {
      const order = orderOfAddress(query)
      if (!order) return refused('PAPER_UNKNOWN')
      const settings = await readSettings(desk.read, desk.officeId)
      const ready = await readyToPrint(desk, settings, order)
      if (!ready.ok) return ready
      const facts = await factsOf(desk, settings)
      return ok({
        fileName: `labels-${desk.today}.pdf`,
        contentType: 'application/pdf',
        write: async (sink) => void (await writeLabels(ready.value.print, facts, sink)),
      })
    },
  },
  {
    address: '/papers/label-frames',
    make: async (desk) => {
      const settings = await readSettings(desk.read, desk.officeId)
      const facts = await factsOf(desk, settings)
      const shift = shiftOf(settings.labelShiftRightMm, settings.labelShiftDownMm)
      return ok({
        fileName: 'label-frames.pdf',
        contentType: 'application/pdf',
        write: async (sink) => void (await writeLabelFrames(shift, facts, sink)),
      })
    },
  },
]

const door = implement(labelsContract).$context<Desk>()
export const labelsAnswers = door.router({
  find: door.find.handler(answer(find)),
  ofDelivery: door.ofDelivery.handler(answer(ofDelivery)),
  ofPart: door.ofPart.handler(answer(ofPart)),
  preview: door.preview.handler(answer(preview)),
})
