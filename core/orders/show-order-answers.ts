import type { Desk } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import type { PartId, PlaceId, PurchaseOrderId } from '../units/ids.ts'
import { addCents, type Cents, cents } from '../units/money.ts'
import { orderAsKept } from './compose-order-answers.ts'
import { amountOf, orderAsText, orderTotal } from './order-as-sent.ts'
import { lackToMinimum } from './order-quantity.ts'
import {
  type DeliveryMovement,
  deliveriesOfLines,
  type ReceiptLineRow,
  receiptLinesOfOrder,
  usualBins,
} from './order-receipts-store.ts'
import type { OrderInFull, OrderLineRow, OrderRow, ReceiptRow } from './order-shapes.ts'
import { lineWords, openPieces, standingOf, standingWords } from './order-standing.ts'
import { findOrder, linesOfOrders, listOrders, type OrderHead, type OrderLine, traceOfOrder } from './orders-store.ts'
import { differenceWords, priceDifference } from './price-difference.ts'
import { wouldCome } from './send-order-answers.ts'
import { listTerms, type TermWithTimes } from './suppliers-store.ts'
import { waitingForOrder } from './waiting-visits-answers.ts'

const LATEST = 200

export async function listedOrders(desk: Desk): Promise<Result<OrderRow[]>> {
  const { read, officeId } = desk
  const heads = await listOrders(read, officeId, LATEST)
  const lines = await linesOfOrders(
    read,
    officeId,
    heads.map((head) => head.orderId),
  )
  const { locale } = await readSettings(read, officeId)
  const byOrder = grouped(lines, (line) => line.orderId)
  return ok(heads.map((head) => rowOf(desk, head, byOrder.get(head.orderId) ?? [], locale)))
}

function grouped<Key, Row>(rows: readonly Row[], keyOf: (row: Row) => Key): Map<Key, Row[]> {
  const groups = new Map<Key, Row[]>()
  for (const row of rows) {
    const group = groups.get(keyOf(row))
    if (group) group.push(row)
    else groups.set(keyOf(row), [row])
  }
  return groups
}

function rowOf({ today }: Desk, head: OrderHead, lines: readonly OrderLine[], locale: string): OrderRow {
  const { leadTimeDays: _, minimumOrder: __, email: ___, note: ____, cancelledReason: _____, ...row } = head
  const standing = standingOf({ ...head, lines }, today)
  return {
    ...row,
    cost: orderTotal(lines),
    standing: standing.standing,
    words: standingWords({ ...standing, expectedOn: head.expectedOn }, locale),
    lineCount: lines.length,
    open: standing.open,
    daysLate: standing.daysLate,
  }
}

export async function shownOrder(desk: Desk, { orderId }: { orderId: PurchaseOrderId }): Promise<Result<OrderInFull>> {
  const { read, officeId } = desk
  const head = await findOrder(read, officeId, orderId)
  if (!head) return refused('RECORD_GONE', { what: 'This order' })
  const { locale, currency } = await readSettings(read, officeId)
  const lines = await linesOfOrders(read, officeId, [orderId])
  const terms = (await listTerms(read, officeId)).filter((term) => term.supplierId === head.supplierId)
  const lineIds = lines.map((line) => line.lineId)
  const movements = await deliveriesOfLines(read, officeId, lineIds)
  const bins = await usualBins(
    read,
    officeId,
    lines.map((line) => line.partId),
  )
  const came = await receiptLinesOfOrder(read, officeId, orderId)
  const comes = await wouldCome(desk, head)
  const row = rowOf(desk, head, lines, locale)
  const sent = await orderAsKept(desk, head, comes)
  return ok({
    ...row,
    note: head.note,
    cancelledReason: head.cancelledReason,
    minimumOrder: head.minimumOrder,
    lacks: lackToMinimum(row.cost, head.minimumOrder),
    wouldCome: comes,
    lines: lines.map((line) => lineOf(head, line, { terms, movements, bins })),
    receipts: receiptsOf(came, movements, lines, { locale, currency }),
    waiting: await waitingForOrder(desk, head, lines, locale),
    difference: chargedDifference(came, movements, lines),
    text: orderAsText(sent, head.number, head.sentOn ?? desk.today),
    email: head.email,
    trace: await traceOfOrder(read, officeId, orderId),
  })
}

interface LineFacts {
  readonly terms: readonly TermWithTimes[]
  readonly movements: readonly DeliveryMovement[]
  readonly bins: ReadonlyMap<PartId, PlaceId>
}

function lineOf(head: OrderHead, line: OrderLine, { terms, movements, bins }: LineFacts): OrderLineRow {
  const { orderId: _, partId, number, name, ...counts } = line
  const term = terms.find((each) => each.partId === partId)
  const damaged = movements
    .filter((each) => each.lineId === line.lineId && each.isDamaged && !each.isPutRight)
    .reduce((sum, each) => sum + each.quantity, 0)
  const isAwaited = head.state === 'sent'
  return {
    ...counts,
    part: { partId, number, name },
    terms: term
      ? {
          supplierNumber: term.supplierNumber,
          price: term.price,
          packSize: term.packSize,
          minimumQuantity: term.minimumQuantity,
          breaks: term.breaks,
        }
      : null,
    damaged,
    open: isAwaited ? openPieces(line) : 0,
    amount: amountOf(line),
    usualPlaceId: bins.get(partId) ?? null,
    words: lineWords({ ...line, damaged }, isAwaited),
  }
}

function putRightOf(row: ReceiptLineRow, movements: readonly DeliveryMovement[], damaged?: boolean): number {
  return movements
    .filter((each) => each.receiptId === row.receiptId && each.lineId === row.lineId && each.lotId === row.lotId)
    .filter((each) => each.isPutRight && (damaged === undefined || each.isDamaged === damaged))
    .reduce((sum, each) => sum + each.quantity, 0)
}

function orderedPrice(row: ReceiptLineRow, lines: readonly OrderLine[]): Cents {
  return lines.find((line) => line.lineId === row.lineId)?.price ?? row.price
}

/** The deliveries, the latest first. */
function receiptsOf(
  came: readonly ReceiptLineRow[],
  movements: readonly DeliveryMovement[],
  lines: readonly OrderLine[],
  manner: { readonly locale: string; readonly currency: string },
): ReceiptRow[] {
  const receipts = [...grouped(came, (row) => row.receiptId).values()].reverse()
  return receipts.flatMap((rows) => {
    const [first] = rows
    if (!first) return []
    const { receiptId, receivedOn, by, note } = first
    const toLabel = rows.reduce((sum, row) => sum + row.accepted - putRightOf(row, movements, false), 0)
    const shown = rows.map((row) => receiptLineOf(row, movements, lines, manner))
    return [{ receiptId, receivedOn, by, note, toLabel, lines: shown }]
  })
}

function receiptLineOf(
  row: ReceiptLineRow,
  movements: readonly DeliveryMovement[],
  lines: readonly OrderLine[],
  manner: { readonly locale: string; readonly currency: string },
): ReceiptRow['lines'][number] {
  const { partId, number, name, lotId, lot, expiresOn, accepted, damaged, price } = row
  const difference = priceDifference(orderedPrice(row, lines), price, accepted)
  return {
    part: { partId, number, name },
    lotId,
    lot,
    expiresOn,
    accepted,
    damaged,
    price,
    difference: difference === null ? '' : differenceWords(difference, accepted, manner),
    putRight: putRightOf(row, movements),
  }
}

/** What was charged above what was ordered, on the pieces that count as received. */
function chargedDifference(
  came: readonly ReceiptLineRow[],
  movements: readonly DeliveryMovement[],
  lines: readonly OrderLine[],
): Cents {
  return addCents(
    ...came.map((row) => {
      const pieces = row.accepted - putRightOf(row, movements, false)
      return priceDifference(orderedPrice(row, lines), row.price, pieces)?.all ?? cents(0)
    }),
  )
}
