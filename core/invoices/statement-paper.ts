import { drawFoldMarks, drawLetterhead, drawWindowAddress } from '../paper/letterhead.ts'
import type { PaperFacts } from '../paper/paper.ts'
import { type PaperMade, type PaperSink, streamPaper } from '../paper/stream-paper.ts'
import { drawTable, type Row } from '../paper/table.ts'
import { TYPE_SIZES } from '../paper/text-block.ts'
import { windowLayout } from '../paper/window-envelope.ts'
import { longDate, shortDate } from '../units/date-words.ts'
import { cents, formatCents } from '../units/money.ts'
import { AGE_WORDS, AGES } from './ageing.ts'
import type { LetterPaper } from './invoice-paper.ts'
import type { Account } from './invoices-contract.ts'

export interface StatementPage {
  readonly account: Account
  readonly buyerAddress: string
}

const BODY = { size: TYPE_SIZES.body } as const

/** A customer's statement of account: every entry with the balance after it, what is owed by age, how to pay. */
export function writeStatement(
  page: StatementPage,
  office: LetterPaper,
  facts: PaperFacts,
  sink: PaperSink,
): Promise<PaperMade> {
  const { account } = page
  const { locale } = facts
  const amount = (value: number): string => formatCents(cents(value), account.currency, locale, true)
  return streamPaper(
    facts,
    async (paper, letOut) => {
      const layout = windowLayout(office.windowEnvelope, facts.pageSize)
      paper.beginSection({ footNote: `Statement of account ${account.reference}`, margins: layout.margins })
      drawLetterhead(paper, { name: office.officeName, particulars: office.particulars }, layout)
      const lines = page.buyerAddress.split('\n')
      const isUs = office.windowEnvelope === 'us-10'
      const shown = isUs ? lines.map((line) => line.toUpperCase().replace(/[.,]/g, '')) : lines
      drawWindowAddress(paper, shown, [office.officeName, ...office.particulars.slice(0, 2)].join(', '), layout)
      drawFoldMarks(paper, layout)
      const { x, y, width } = layout.information
      paper.textAt(`${longDate(account.until, locale)}\nOur reference  ${account.reference}`, x, y, width, {
        size: 9.5,
        ink: 'second',
      })
      paper.y = layout.bodyTop
      paper.heading('Statement of account')
      paper.text(`From ${longDate(account.from, locale)} to ${longDate(account.until, locale)}.`, BODY)
      paper.gap(10)
      drawTable(
        paper,
        [
          { head: 'Date', width: 80 },
          { head: 'Entry', width: 'rest' },
          { head: 'Asked', width: 70, align: 'right' },
          { head: 'Paid or given back', width: 96, align: 'right' },
          { head: `Balance, ${account.currency}`, width: 84, align: 'right' },
        ],
        [
          { cells: [shortDate(account.from, locale), 'Brought forward', '', '', amount(account.broughtForward)] },
          ...account.lines.map((line): Row => {
            const asks = line.kind === 'invoice' || line.kind === 'payment-undone'
            return {
              cells: [
                shortDate(line.on, locale),
                line.words,
                asks ? amount(line.amount) : '',
                asks ? '' : amount(line.amount),
                amount(line.balance),
              ],
            }
          }),
          {
            cells: ['', account.balance < 0 ? 'In your favour' : 'You owe', '', '', amount(Math.abs(account.balance))],
            strong: true,
            rule: 'firm',
          },
        ],
      )
      paper.gap(16)
      if (account.balance > 0) {
        paper.subheading('How long it has been owed')
        drawTable(
          paper,
          AGES.map((age) => ({ head: AGE_WORDS[age], width: 'rest' as const, align: 'right' as const })),
          [{ cells: AGES.map((age) => amount(account.ages[age])) }],
        )
        paper.gap(14)
        paper.subheading('How to pay')
        paper.text(office.howToPay, BODY)
      } else paper.text('Nothing is owed. Thank you.', BODY)
      paper.endSection()
      await letOut()
    },
    sink,
  )
}
