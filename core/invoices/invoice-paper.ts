import { drawFoldMarks, drawLetterhead, drawWindowAddress } from '../paper/letterhead.ts'
import type { Paper, PaperFacts } from '../paper/paper.ts'
import { type PaperMade, type PaperSink, streamPaper } from '../paper/stream-paper.ts'
import { type Cell, drawTable, type Row } from '../paper/table.ts'
import { drawText, lineHeightOf, TYPE_SIZES } from '../paper/text-block.ts'
import { type WindowEnvelope, type WindowLayout, windowLayout } from '../paper/window-envelope.ts'
import { longDate } from '../units/date-words.ts'
import { type Cents, cents, formatCents, formatTaxRate } from '../units/money.ts'
import type { TaxCategory } from './invoice-lines.ts'
import type { WholeInvoice } from './one-invoice-store.ts'

/** What the papers of an office have in common. */
export interface LetterPaper {
  readonly officeName: string
  readonly particulars: readonly string[]
  readonly windowEnvelope: WindowEnvelope
  readonly taxNumber: string
  readonly howToPay: string
}

export interface InvoicePage {
  readonly invoice: WholeInvoice
  /** The number that a credit note corrects; empty for an invoice. */
  readonly corrects: string
  /** The customer's number in the books. */
  readonly reference: string
}

const SMALL = { size: TYPE_SIZES.note, ink: 'second' } as const
const BODY = { size: TYPE_SIZES.body } as const
const PRICE_WIDTH = 74
const AMOUNT_WIDTH = 82

const TAX_WORDS: Readonly<Record<TaxCategory, string>> = {
  standard: 'Tax',
  zero: 'Free of tax',
  exempt: 'Exempt from tax',
  outside: 'Outside the scope of tax',
}

/** Invoices and credit notes, each a document of its own within the file, set for the window envelope. */
export function writeInvoices(
  pages: readonly InvoicePage[],
  office: LetterPaper,
  facts: PaperFacts,
  sink: PaperSink,
): Promise<PaperMade> {
  return streamPaper(
    facts,
    async (paper, letOut) => {
      for (const page of pages) {
        drawInvoice(paper, page, office)
        await letOut()
      }
    },
    sink,
  )
}

function titleOf({ invoice, corrects }: InvoicePage): string {
  const name = invoice.kind === 'invoice' ? 'Invoice' : 'Credit note'
  if (invoice.state === 'draft') return `${name}, draft`
  return corrects === '' ? `${name} ${invoice.number}` : `${name} ${invoice.number} for invoice ${corrects}`
}

function drawInvoice(paper: Paper, page: InvoicePage, office: LetterPaper): void {
  const { invoice } = page
  const layout = windowLayout(office.windowEnvelope, paper.facts.pageSize)
  let carried = 0
  let isListing = true
  paper.beginSection({
    footNote: titleOf(page),
    margins: layout.margins,
    onNextPage: (next) => drawCarriedOver(next, page, isListing ? cents(carried) : null),
  })
  drawHead(paper, page, office, layout)
  const rows = invoice.lines.map(
    (line): Row => ({
      cells: [
        { lines: [{ wording: line.description }, ...lessLines(paper, line.allowance, invoice.currency)] },
        figure(line.quantity / 1000, paper),
        formatPrice(line.unitPrice, paper.facts.locale),
        amountCell(paper, line.net, invoice.currency, () => {
          carried += line.net
        }),
      ],
    }),
  )
  drawTable(
    paper,
    [
      { head: 'What', width: 'rest' },
      { head: 'Quantity', width: 56, align: 'right' },
      { head: 'Price', width: PRICE_WIDTH, align: 'right' },
      { head: `Amount, ${invoice.currency}`, width: AMOUNT_WIDTH, align: 'right' },
    ],
    rows,
  )
  isListing = false
  drawFoot(paper, page)
  drawWords(paper, page, office)
  paper.endSection()
}

function drawHead(paper: Paper, page: InvoicePage, office: LetterPaper, layout: WindowLayout): void {
  const { invoice, reference } = page
  const { locale } = paper.facts
  drawLetterhead(paper, { name: office.officeName, particulars: office.particulars }, layout)
  const lines = invoice.buyerAddress.split('\n')
  const sender = [office.officeName, ...office.particulars.slice(0, 2)].join(', ')
  drawWindowAddress(paper, office.windowEnvelope === 'us-10' ? lines.map(inCapitals) : lines, sender, layout)
  drawFoldMarks(paper, layout)
  const { x, width } = layout.information
  let y = layout.information.y
  const says = (label: string, value: string): void => {
    if (value === '') return
    y += paper.textAt([{ text: `${label}  `, ink: 'second' }, { text: value }], x, y, width, { size: 9.5 })
  }
  says('Number', invoice.state === 'draft' ? 'not issued' : invoice.number)
  says('Date', longDate(invoice.issuedOn ?? invoice.draftedOn, locale))
  says('Our reference', reference)
  says('Your reference', invoice.buyerReference)
  says('Tax number', office.taxNumber)
  paper.y = layout.bodyTop
  paper.heading(titleOf(page))
  if (invoice.state === 'draft')
    paper.text('This is a draft to look at. It asks for nothing yet and has no number.', BODY)
  if (invoice.suppliedOn) paper.text(`For our visit on ${longDate(invoice.suppliedOn, locale)}.`, BODY)
  paper.gap(10)
}

/** "Carried over" at the top of every further page, so that the figures can be followed across the fold. */
function drawCarriedOver(paper: Paper, page: InvoicePage, carried: Cents | null): number {
  const { x, width } = paper.area
  const before = paper.y
  paper.textAt(
    carried === null ? titleOf(page) : `${titleOf(page)}, carried over`,
    x,
    before,
    width - AMOUNT_WIDTH,
    SMALL,
  )
  if (carried !== null) {
    const right = { ...SMALL, align: 'right' } as const
    paper.textAt(money(carried, page.invoice.currency, paper), x + width - AMOUNT_WIDTH, before, AMOUNT_WIDTH, right)
  }
  return lineHeightOf(SMALL) + 8
}

function drawFoot(paper: Paper, { invoice }: InvoicePage): void {
  const { totals, currency } = invoice
  const { locale } = paper.facts
  const amount = (value: Cents): string => money(value, currency, paper)
  const rows: Row[] = []
  const add = (words: string, value: string, strong = false): number =>
    rows.push({ cells: ['', words, value], strong, rule: strong ? 'firm' : 'none' })
  if (totals.allowances > 0 || totals.charges > 0) add('Lines together', amount(totals.linesTogether))
  for (const each of invoice.documentAmounts) {
    const rate = totals.taxByRate.length > 1 ? `, at ${formatTaxRate(each.rate, locale)}` : ''
    const sign = each.kind === 'allowance' ? -1 : 1
    add(
      `${sign < 0 ? 'Less' : 'Plus'} ${each.reason || (sign < 0 ? 'allowance' : 'charge')}${rate}`,
      amount(cents(sign * each.amount)),
    )
  }
  add('Together without tax', amount(totals.withoutTax))
  for (const row of totals.taxByRate) {
    const on = `on ${amount(row.taxable)}`
    if (row.category === 'standard')
      add(`${TAX_WORDS.standard} ${formatTaxRate(row.rate, locale)} ${on}`, amount(row.tax))
    else add(`${TAX_WORDS[row.category]}, ${on}`, amount(row.tax))
  }
  if (totals.prepaid !== 0 || totals.rounding !== 0) add('Together with tax', amount(totals.withTax))
  if (totals.prepaid !== 0) add('Paid already', amount(cents(-totals.prepaid)))
  if (totals.rounding !== 0) add('Rounding', amount(totals.rounding))
  add(dueWords(invoice, locale), formatCents(totals.due, currency, locale), true)
  paper.gap(4)
  paper.ensure(rows.length * 20 + 10)
  const columns = [
    { head: '', width: 'rest' },
    { head: '', width: 250, align: 'right' },
    { head: '', width: AMOUNT_WIDTH + 10, align: 'right' },
  ] as const
  drawTable(paper, columns, rows, { padding: 2.5 })
}

function dueWords(invoice: WholeInvoice, locale: string): string {
  if (invoice.kind === 'credit-note') return 'Given back to you'
  return invoice.payBy ? `To pay by ${longDate(invoice.payBy, locale)}` : 'To pay'
}

function drawWords(paper: Paper, { invoice }: InvoicePage, office: LetterPaper): void {
  if (invoice.note !== '') {
    paper.gap(14)
    paper.subheading(invoice.kind === 'credit-note' ? 'Why' : invoice.visitId === null ? 'Note' : 'What was done')
    for (const line of invoice.note.split('\n')) paper.text(line, BODY)
  }
  paper.gap(14)
  if (invoice.kind === 'credit-note') {
    paper.text('It is set against what you owe us, or paid back to you: call us and say which.', BODY)
    return
  }
  if (invoice.totals.due <= 0) {
    paper.text('Nothing is left to pay. Thank you.', BODY)
    return
  }
  paper.subheading('How to pay')
  const by = invoice.payBy ? ` Due by ${longDate(invoice.payBy, paper.facts.locale)}.` : ''
  paper.text(`${office.howToPay}${by}`, BODY)
}

function lessLines(paper: Paper, allowance: Cents, currency: string) {
  return allowance > 0 ? [{ wording: `less ${money(allowance, currency, paper)}`, style: SMALL }] : []
}

function amountCell(paper: Paper, amount: Cents, currency: string, drawn: () => void): Cell {
  return {
    height: lineHeightOf(BODY),
    draw: (x, y, width) => {
      const set = paper.set(money(amount, currency, paper), width, { ...BODY, align: 'right' })
      drawText(paper.pen, set, x, y, width)
      drawn()
    },
  }
}

function money(amount: Cents, currency: string, paper: Paper): string {
  return formatCents(amount, currency, paper.facts.locale, true)
}

function figure(value: number, paper: Paper): string {
  return value.toLocaleString(paper.facts.locale, { maximumFractionDigits: 3 })
}

/** A unit price with at least two decimals, more only where it has them: 64.00, 0.1212. */
function formatPrice(tenThousandths: number, locale: string): string {
  return (tenThousandths / 10_000).toLocaleString(locale, { minimumFractionDigits: 2, maximumFractionDigits: 4 })
}

/** USPS Publication 28: capitals, no commas or full stops. */
function inCapitals(line: string): string {
  return line.toUpperCase().replace(/[.,]/g, '')
}
