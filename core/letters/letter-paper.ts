import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import type { TrainStage } from '../installations/stage-train.ts'
import { drawFoldMarks, drawLetterhead, drawWindowAddress } from '../paper/letterhead.ts'
import { type Box, type Points, textArea } from '../paper/page-geometry.ts'
import type { PagePicture } from '../paper/page-picture.ts'
import type { Paper } from '../paper/paper.ts'
import { type PaperMade, type PaperSink, streamPaper } from '../paper/stream-paper.ts'
import { drawText, type TextStyle, type Wording } from '../paper/text-block.ts'
import { setTrain } from '../paper/train-on-paper.ts'
import { type WindowLayout, windowLayout } from '../paper/window-envelope.ts'
import { type CalendarDate, partsOf } from '../units/calendar-date.ts'
import { dayAndMonth, longDate, monthName } from '../units/date-words.ts'
import { formatCents } from '../units/money.ts'
import type { LetterPage, LetterPagePrice, LetterRunFacts } from './letter-page.ts'
import { drawSlip, slipHeight } from './slip-paper.ts'

/** A piece of the letter below its subject: its height is known before it is drawn. */
interface Block {
  readonly height: Points
  /** White above it. */
  readonly above: Points
  readonly draw: (top: Points) => void
}

/** Sizes that are tried, largest first, before a letter goes on to a second page. */
const SIZES: readonly Points[] = [11, 10.5, 10, 9.5]

/** Writes a run's letters, a section each, in the order given. */
export function writeLetters(
  pages: AsyncIterable<LetterPage> | Iterable<LetterPage>,
  facts: LetterRunFacts,
  sink: PaperSink,
): Promise<PaperMade> {
  return streamPaper(
    paperOptions(facts),
    async (paper, letOut) => {
      for await (const page of pages) {
        drawLetter(paper, page, facts)
        await letOut()
      }
    },
    sink,
  )
}

/** The first page of a letter as a picture, and how many pages it has: what is looked at before printing. */
export async function pictureLetter(
  page: LetterPage,
  facts: LetterRunFacts,
): Promise<{ picture: PagePicture; pages: number; missing: readonly string[] }> {
  const made = await streamPaper({ ...paperOptions(facts), pictures: 1 }, (paper) => drawLetter(paper, page, facts), {
    write: () => {},
  })
  const [picture] = made.pictures
  if (!picture) throw new Error('A letter has a first page.')
  return { picture, pages: made.pages, missing: made.missing }
}

function paperOptions({ title, officeName, locale, pageSize, printedOn, madeAt }: LetterRunFacts) {
  return { title, officeName, locale, pageSize, printedOn, madeAt }
}

/** One letter: letterhead, address, date and reference, subject, words, trains, price, answer, cautions, and the slip at the foot. */
export function drawLetter(paper: Paper, page: LetterPage, facts: LetterRunFacts): void {
  const layout = windowLayout(facts.windowEnvelope, facts.pageSize)
  const room = paper.sheet.height - layout.margins.bottom - slipHeight - layout.bodyTop
  const area = { ...textArea(facts.pageSize, layout.margins), y: layout.bodyTop }
  const measured = SIZES.map((size) => () => blocksOf(paper, page, facts, size, area))
  const fitting = firstThat(measured, (blocks) => heightOf(blocks) <= room)
  paper.beginSection({
    margins: layout.margins,
    foot: fitting === null ? 'page-of' : 'none',
    footNote: page.reference,
    onNextPage: () => 0,
  })
  drawHead(paper, page, facts, layout)
  paper.y = layout.bodyTop
  const blocks = fitting ?? blocksOf(paper, page, facts, 10.5, area)
  // The last two, answer and cautions, stay with the slip.
  blocks.forEach((block, index) => {
    const together =
      index === blocks.length - 2 ? heightOf(blocks.slice(index)) + slipHeight : block.above + block.height
    if (fitting === null) paper.ensure(together)
    if (paper.y > paper.area.y) paper.gap(block.above)
    block.draw(paper.y)
    paper.gap(block.height)
  })
  drawSlip(paper, page, layout.margins.bottom)
  paper.endSection()
}

function drawHead(paper: Paper, page: LetterPage, facts: LetterRunFacts, layout: WindowLayout): void {
  drawLetterhead(paper, { name: facts.officeName, particulars: facts.particulars }, layout)
  drawWindowAddress(paper, page.addressLines, facts.senderLine, layout)
  const { x, y, width } = layout.information
  const look: TextStyle = { size: 10.5, ink: 'second', leading: 1.4 }
  paper.textAt(`${longDate(page.writtenOn, facts.locale)}\nOur reference ${page.reference}`, x, y, width, look)
  drawFoldMarks(paper, layout)
}

/** The first of several makings whose result will do; null when none does. Later ones are not even made. */
function firstThat<T>(makings: readonly (() => T)[], willDo: (made: T) => boolean): T | null {
  for (const make of makings) {
    const made = make()
    if (willDo(made)) return made
  }
  return null
}

const heightOf = (blocks: readonly Block[]): Points =>
  blocks.reduce((sum, block) => sum + block.above + block.height, 0)

function blocksOf(paper: Paper, page: LetterPage, facts: LetterRunFacts, size: Points, area: Box): Block[] {
  const tight = size / 11
  const body: TextStyle = { size, leading: 1.38 }
  const text = (wording: Wording, above: Points, style: TextStyle = body, role = 'P'): Block =>
    textBlock(paper, wording, above * tight, style, role, area)
  const paragraphs = page.body.split(/\n+/).filter((paragraph) => paragraph !== '')
  return [
    text(page.subject, 0, { size: size + 3.5, weight: 'semibold', leading: 1.25 }, 'H1'),
    text(`${page.salutation},`, 9),
    ...paragraphs.map((paragraph) => text(paragraph, 7)),
    ...page.trains.map(({ heading, stages }) =>
      heading === ''
        ? trainBlock(paper, stages, facts, 16 * tight, area)
        : together(text(heading, 12, { ...body, weight: 'semibold' }, 'H2'), trainBlock(paper, stages, facts, 4, area)),
    ),
    ...(page.price === null ? [] : [priceBlock(paper, page.price, page.currency, facts, body, 12 * tight, area)]),
    text(answerWording(page.answer), 12),
    text(page.cautions, 7, { size: Math.min(8.5, size - 1.5), ink: 'second', leading: 1.32 }),
  ]
}

/** Two blocks that no page parts: a heading and what it heads. */
function together(first: Block, second: Block): Block {
  const gap = first.height + second.above
  return {
    height: gap + second.height,
    above: first.above,
    draw: (top) => {
      first.draw(top)
      second.draw(top + gap)
    },
  }
}

function textBlock(
  paper: Paper,
  wording: Wording,
  above: Points,
  style: TextStyle,
  role: string,
  { x, width }: Box,
): Block {
  const set = paper.set(wording, width, style)
  return {
    height: set.height,
    above,
    draw: (top) =>
      paper.structure(role, {}, () => paper.pen.content(role, () => drawText(paper.pen, set, x, top, width))),
  }
}

function trainBlock(
  paper: Paper,
  stages: readonly TrainStage[],
  { locale, printedOn }: LetterRunFacts,
  above: Points,
  area: Box,
): Block {
  const train = setTrain(paper, area, stages, {
    name: (stage) => stage.label,
    words: (stage) => vesselWords(stage, printedOn, locale),
  })
  return { height: train.height, above, draw: train.draw }
}

/** Under a vessel: "due Dec 3", "good until 2028", "sanitise in June". */
function vesselWords({ kind, dueOn, ringed }: TrainStage, today: CalendarDate, locale: string): string {
  if (dueOn === null) return 'no date yet'
  if (ringed) return `${dueOn < today ? 'was due' : 'due'} ${dayAndMonth(dueOn, locale)}`
  const { year, month } = partsOf(dueOn)
  const when = year > partsOf(today).year + 1 ? String(year) : `${monthName(month).slice(0, 3)} ${year}`
  return STAGE_KIND_WORDS[kind].care === 'sanitise' ? `sanitise in ${when}` : `good until ${when}`
}

/** The first sentence of the answer says what to do: it is set in the heavier weight. */
function answerWording(answer: string): Wording {
  const end = /[.!?](?=\s|$)/.exec(answer)
  if (!end) return [{ text: answer, weight: 'semibold' }]
  const cut = end.index + 1
  return [{ text: answer.slice(0, cut), weight: 'semibold' }, { text: answer.slice(cut) }]
}

function priceBlock(
  paper: Paper,
  price: LetterPagePrice,
  currency: string,
  facts: LetterRunFacts,
  style: TextStyle,
  above: Points,
  { x, width }: Box,
): Block {
  const money = (amount: LetterPagePrice['totalCents'], bare: boolean): string =>
    formatCents(amount, currency, facts.locale, bare)
  // The currency is named once where it stands in front; behind the figure it would push it out of line.
  const nameOnce = facts.locale.startsWith('en')
  const tax =
    price.taxCents === 0 ? 'Together' : facts.locale === 'en-US' ? 'Together, with sales tax' : 'Together, with tax'
  const rows = [
    ...(price.parts === '' ? [] : [{ what: price.parts, amount: money(price.partsCents, false), strong: false }]),
    { what: 'The call', amount: money(price.callCents, nameOnce && price.parts !== ''), strong: false },
    ...(price.unpriced === '' ? [] : [{ what: `${price.unpriced}: price on the phone`, amount: '', strong: false }]),
    { what: tax, amount: money(price.totalCents, false), strong: true },
  ]
  const amountWidth = 90
  const padding = style.size * 0.3
  const set = rows.map(({ what, amount, strong }) => {
    const look: TextStyle = { ...style, weight: strong ? 'semibold' : 'regular' }
    return {
      what: paper.set(what, width - amountWidth, look),
      amount: paper.set(amount, amountWidth, { ...look, align: 'right' }),
      strong,
    }
  })
  const draw = (top: Points): void => {
    let y = top
    set.forEach((row, index) => {
      if (index > 0) paper.ruleAt(x, y, width, row.strong ? 'hair' : index === 1 ? 'firm' : 'hair')
      const at = y + padding
      paper.structure('TR', {}, () => {
        paper.structure('TH', { scope: 'Row' }, () =>
          paper.pen.content('TH', () => drawText(paper.pen, row.what, x, at, width - amountWidth)),
        )
        paper.structure('TD', {}, () =>
          paper.pen.content('TD', () => drawText(paper.pen, row.amount, x + width - amountWidth, at, amountWidth)),
        )
      })
      y = at + row.what.height + padding
    })
  }
  return {
    height: set.reduce((sum, row) => sum + row.what.height + 2 * padding, 0),
    above,
    draw: (top) => paper.structure('Table', {}, () => draw(top)),
  }
}
