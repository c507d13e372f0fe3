import { expect, test } from 'vitest'
import { drawCautions } from '../../core/paper/cautions-block.ts'
import { inches, mm, PAGE_SIZES } from '../../core/paper/page-geometry.ts'
import { type PaperOptions, paperBytes, streamPaper } from '../../core/paper/stream-paper.ts'
import { drawTable } from '../../core/paper/table.ts'
import { wordsOf } from '../../core/paper/text-block.ts'
import { drawTrainOnPaper } from '../../core/paper/train-on-paper.ts'
import { ENVELOPES, shownOfSheet, windowLayout } from '../../core/paper/window-envelope.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { stageIdSchema } from '../../core/units/ids.ts'
import { readPdf, wordsOn } from '../judges/read-pdf.ts'

const options: PaperOptions = {
  title: 'Pull & carry',
  officeName: 'Larkmoor Water',
  locale: 'en-US',
  pageSize: 'letter',
  printedOn: calendarDate('2026-11-25'),
  madeAt: '2026-11-25T11:00:00.000Z',
}

test('PAP-4 pages are numbered within their section, with the office and the date at every foot', async () => {
  const made = await paperBytes(options, async (paper, letOut) => {
    for (const name of ['van 1', 'van 2']) {
      paper.beginSection({ footNote: name })
      paper.text('a line\n'.repeat(name === 'van 1' ? 100 : 10), { size: 10.5 })
      paper.endSection()
      await letOut()
    }
  })
  const { pages, title } = await readPdf(made.file)
  expect(title).toBe('Pull & carry')
  expect(made.pages).toBe(pages.length)
  const feet = pages.map((page) => /van \d · page \d+ of \s*\d+/.exec(wordsOn(page))?.[0].replace(/\s+/g, ' '))
  expect(feet).toEqual(['van 1 · page 1 of 3', 'van 1 · page 2 of 3', 'van 1 · page 3 of 3', 'van 2 · page 1 of 1'])
  for (const page of pages) expect(wordsOn(page)).toContain('Larkmoor Water · printed November 25, 2026')
})

test('PAP-3 the bytes run out after every section, and a slow reader holds the drawing back', async () => {
  let waiting = 0
  let most = 0
  let kept = 0
  const made = await streamPaper(
    options,
    async (paper, letOut) => {
      for (let section = 0; section < 30; section += 1) {
        paper.beginSection({ foot: 'none' })
        paper.text('words '.repeat(200), { size: 10.5 })
        paper.endSection()
        await letOut()
        most = Math.max(most, waiting)
      }
    },
    {
      write: async (bytes) => {
        waiting += 1
        await new Promise((resolve) => setImmediate(resolve))
        kept += bytes.length
        waiting -= 1
      },
    },
  )
  expect(most).toBe(0)
  expect(kept).toBe(made.bytes)
  expect(made.pages).toBe(30)
})

test('a table keeps its rows whole, says its heads again on every page, and figures stand under each other', async () => {
  const rows = Array.from({ length: 80 }, (_, index) => ({ cells: [`A-${index}`, String(index * 137)] }))
  const made = await paperBytes(options, (paper) => {
    paper.beginSection()
    drawTable(
      paper,
      [
        { head: 'Bin', width: 'rest' },
        { head: 'Pieces', width: 80, align: 'right' },
      ],
      rows,
    )
    paper.endSection()
  })
  const { pages } = await readPdf(made.file)
  expect(pages.length).toBeGreaterThan(1)
  for (const page of pages) expect(wordsOn(page)).toMatch(/^Bin Pieces/)
  const figures = pages.flatMap((page) =>
    page.texts.filter((text) => /^\d+$/.test(text.text) && text.base < page.height - 60),
  )
  expect(figures).toHaveLength(80)
  for (const figure of figures) expect(Math.abs(figure.right - (figures[0]?.right ?? 0))).toBeLessThan(0.1)
  expect(Buffer.from(made.file).toString('latin1')).toContain('/StructTreeRoot')
})

test('text breaks at spaces, keeps a no-break space together, and parts a word that is wider than its line', async () => {
  await paperBytes(options, (paper) => {
    paper.beginSection()
    const lines = (text: string, width: number) => wordsOf(paper.set(text, width, { size: 10 }))
    expect(lines('one two three', 40)).toEqual(['one two', 'three'])
    expect(lines('about 45\u00a0minutes', 60)).toEqual(['about', '45\u00a0minutes'])
    const parts = lines('office-of-the-water-board@larkmoor.example.com', 90)
    expect(parts.length).toBeGreaterThan(2)
    expect(parts.join('')).toBe('office-of-the-water-board@larkmoor.example.com')
    for (const part of parts) expect(paper.widthOf(part, 10)).toBeLessThanOrEqual(90)
    paper.endSection()
  })
})

test('twelve stages take two lines of the train, each with its name, and cautions stay on one page', async () => {
  const stages = Array.from({ length: 12 }, (_, index) => ({
    stageId: stageIdSchema.parse(index + 1),
    kind: 'carbon' as const,
    label: `Carbon ${index + 1}`,
    dueOn: calendarDate('2026-12-03'),
    lifeLeft: index / 12,
    daysLate: index === 3 ? 20 : 0,
    reason: '12 months',
    ringed: index === 3,
  }))
  const made = await paperBytes(options, (paper) => {
    paper.beginSection()
    drawTrainOnPaper(paper, stages, { name: (stage) => stage.label, words: () => 'due Dec 3' })
    paper.gap(paper.room - 20)
    drawCautions(paper, 'Before anything is opened', ['Shut the feed.', 'Let the pressure off.', 'Look for leaks.'])
    paper.endSection()
  })
  const { pages } = await readPdf(made.file)
  for (const { label } of stages) expect(wordsOn(pages[0])).toContain(label)
  expect(wordsOn(pages[0])).not.toContain('Before anything')
  for (const words of ['Before anything is opened', 'Shut the feed.', 'Look for leaks.'])
    expect(wordsOn(pages[1])).toContain(words)
})

test('LET-11 a window shows always what it shows at both ends of the slip, and the layout keeps to it', () => {
  // US #10, see letter-paper.test.ts: 2.5 to 3.625 in below the top of the envelope; the sheet slips down by 4 1/8 less 3 2/3 in.
  const [envelope] = ENVELOPES['us-10']
  if (!envelope) throw new Error('there is a #10')
  const { always, ever } = shownOfSheet(envelope, PAGE_SIZES.letter.width, inches(11 / 3))
  expect(always.y).toBeCloseTo(inches(2.5))
  expect(always.y + always.height).toBeCloseTo(inches(3.625 - (4.125 - 11 / 3)))
  expect(ever.y).toBeCloseTo(inches(2.5 - (4.125 - 11 / 3)))
  for (const size of ['letter', 'a4'] as const)
    for (const kind of ['us-10', 'din-5008-b'] as const) {
      const layout = windowLayout(kind, size)
      expect(layout.bodyTop).toBeGreaterThan(layout.clear.y + layout.clear.height)
      expect(layout.information.x).toBeGreaterThan(layout.clear.x + layout.clear.width)
      expect(layout.address.height).toBeGreaterThan(30)
    }
  // DIN 5008 form B: folds at 105 and 210 mm, punch mark at 148.5 mm
  const din = windowLayout('din-5008-b', 'a4')
  expect(din.folds.map((fold) => fold / mm(1))).toEqual([expect.closeTo(105), expect.closeTo(210)])
  expect((din.punch ?? 0) / mm(1)).toBeCloseTo(148.5)
})
