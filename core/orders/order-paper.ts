import { drawFoldMarks, drawLetterhead, drawWindowAddress } from '../paper/letterhead.ts'
import type { Paper, PaperFacts } from '../paper/paper.ts'
import { type PaperMade, type PaperSink, streamPaper } from '../paper/stream-paper.ts'
import { drawTable, type Row } from '../paper/table.ts'
import { TYPE_SIZES } from '../paper/text-block.ts'
import { windowLayout } from '../paper/window-envelope.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { longDate, weekdayName } from '../units/date-words.ts'
import { type Cents, formatCents } from '../units/money.ts'
import { amountOf, type OrderAsSent, orderTotal, quantityWords, type SentLine } from './order-as-sent.ts'

export interface OrderPage {
  readonly order: OrderAsSent
  /** Null for a draft to look at. */
  readonly number: string | null
  /** The day it was sent; for a draft today. */
  readonly on: CalendarDate
}

const BODY = { size: TYPE_SIZES.body } as const
const SMALL = { size: TYPE_SIZES.note, ink: 'second' } as const

/** A purchase order as it goes to the supplier, set for the window envelope. */
export function writeOrder(page: OrderPage, facts: PaperFacts, sink: PaperSink): Promise<PaperMade> {
  return streamPaper(
    facts,
    async (paper, letOut) => {
      drawOrder(paper, page)
      await letOut()
    },
    sink,
  )
}

const titleOf = ({ number }: OrderPage): string => (number === null ? 'Order, draft' : `Order ${number}`)

function drawOrder(paper: Paper, page: OrderPage): void {
  const { order } = page
  const layout = windowLayout(order.windowEnvelope, paper.facts.pageSize)
  paper.beginSection({
    footNote: titleOf(page),
    margins: layout.margins,
    onNextPage: (next) => {
      const { x, width } = next.area
      return next.textAt(`${titleOf(page)}, ${order.supplierAddress[0] ?? ''}`, x, next.y, width, SMALL) + 8
    },
  })
  drawLetterhead(paper, { name: order.senderName, particulars: order.sender }, layout)
  const sender = [order.senderName, ...order.sender.slice(0, 1)].join(', ')
  drawWindowAddress(paper, order.supplierAddress, sender, layout)
  drawFoldMarks(paper, layout)
  drawInformation(paper, page, layout.information)
  paper.y = layout.bodyTop
  paper.heading(titleOf(page))
  if (page.number === null) paper.text('This is a draft to look at. It orders nothing yet and has no number.', BODY)
  paper.text('Send us the following.', BODY)
  paper.gap(8)
  drawLines(paper, order)
  drawWords(paper, page)
  paper.endSection()
}

function drawInformation(
  paper: Paper,
  { order, number, on }: OrderPage,
  place: { readonly x: number; readonly y: number; readonly width: number },
): void {
  const { locale } = paper.facts
  let y = place.y
  const says = (label: string, value: string): void => {
    if (value === '') return
    y += paper.textAt([{ text: `${label}  `, ink: 'second' }, { text: value }], place.x, y, place.width, { size: 9.5 })
  }
  says('Order', number ?? 'not sent')
  says('Date', longDate(on, locale))
  says('Our account', order.account)
  says('Expected', order.expectedOn === null ? '' : longDate(order.expectedOn, locale))
}

function drawLines(paper: Paper, order: OrderAsSent): void {
  const { locale } = paper.facts
  const money = (amount: Cents): string => formatCents(amount, order.currency, locale, true)
  const rowOf = (line: SentLine, index: number): Row => ({
    cells: [
      String(index + 1),
      line.supplierNumber === '' ? 'none known' : line.supplierNumber,
      { lines: [{ wording: line.name }, { wording: `our number ${line.number}`, style: SMALL }] },
      { lines: quantityLines(line) },
      money(line.price),
      money(amountOf(line)),
    ],
  })
  drawTable(
    paper,
    [
      { head: '', width: 18, align: 'right' },
      { head: 'Your number', width: 82 },
      { head: 'What', width: 'rest' },
      { head: 'Pieces', width: 66, align: 'right' },
      { head: 'Price', width: 56, align: 'right' },
      { head: `Amount, ${order.currency}`, width: 76, align: 'right' },
    ],
    order.lines.map(rowOf),
  )
  paper.gap(2)
  const total: Row = {
    cells: ['', 'Together', formatCents(orderTotal(order.lines), order.currency, locale)],
    strong: true,
    rule: 'firm',
  }
  const columns = [
    { head: '', width: 'rest' },
    { head: '', width: 120, align: 'right' },
    { head: '', width: 96, align: 'right' },
  ] as const
  drawTable(paper, columns, [total], { padding: 3 })
}

/** "24", and under it, small, "2 packs of 12". */
function quantityLines(line: SentLine) {
  const words = quantityWords(line)
  const packs = /\((.+)\)$/.exec(words)?.[1]
  const pieces = { wording: String(line.quantity) }
  return packs === undefined ? [pieces] : [pieces, { wording: packs, style: SMALL }]
}

function drawWords(paper: Paper, { order }: OrderPage): void {
  const { locale } = paper.facts
  paper.gap(14)
  paper.subheading('Deliver to')
  for (const line of order.deliverTo) paper.text(line, BODY)
  if (order.expectedOn !== null) {
    paper.gap(8)
    const day = `${weekdayName(order.expectedOn)}, ${longDate(order.expectedOn, locale)}`
    paper.text(`We expect the delivery on ${day}. Tell us if it will be another day, or if a part cannot come.`, BODY)
  }
  if (order.remark !== '') {
    paper.gap(14)
    paper.subheading('Remark')
    for (const line of order.remark.split('\n')) paper.text(line, BODY)
  }
  paper.gap(14)
  paper.text(`Put the order number on the delivery note and on the invoice. Ordered by ${order.by}.`, BODY)
}
