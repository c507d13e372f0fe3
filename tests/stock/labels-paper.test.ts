import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { labelPlace, labelSheet, labelsOnSheet, wordsBox } from '../../core/stock/label-sheet.ts'
import type { Labelled } from '../../core/stock/label-words.ts'
import { pictureLabels, shiftOf, writeLabelFrames } from '../../core/stock/labels-paper.ts'
import { labelOfBin, labelOfLot, labelOfLotAlone, labelOfPart } from '../../core/stock/scanned-code.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { aLotLabel, labelFacts, labelsAsPdf } from '../builders/a-label-sheet.ts'
import { asDots, barsOnPages, scannedIn } from '../judges/bars-on-page.ts'
import { contentStreams, nestingFaults } from '../judges/content-streams.ts'
import { readPdf, wordsOn } from '../judges/read-pdf.ts'

interface Geometry {
  readonly name: string
  readonly page: 'letter' | 'a4'
  readonly across: number
  readonly down: number
  /** Millimetres. */
  readonly left: number
  readonly top: number
  readonly stepAcross: number
  readonly stepDown: number
  readonly width: number
  readonly height: number
}

/**
 * As the sheets are cut (reference values 8.4): both US geometries out of label-template collections, in inches; A4 21-up from
 * printreadykit.pages.dev, in millimetres.
 */
const inch = 25.4
const letter = {
  page: 'letter',
  across: 3,
  down: 10,
  top: 0.5 * inch,
  stepDown: inch,
  width: 2.625 * inch,
  height: inch,
} as const
const GEOMETRIES: readonly Geometry[] = [
  { name: 'US Letter, 2.75 in apart', ...letter, left: 0.1875 * inch, stepAcross: 2.75 * inch },
  { name: 'US Letter, 2.78125 in apart', ...letter, left: 0.15625 * inch, stepAcross: 2.78125 * inch },
  {
    name: 'A4',
    page: 'a4',
    across: 3,
    down: 7,
    left: 7.2,
    top: 15.15,
    stepAcross: 66,
    stepDown: 38.1,
    width: 63.5,
    height: 38.1,
  },
]

/** The label as it is cut, less so much on every side; points. */
function cutLabel(geometry: Geometry, index: number, less = 0) {
  const points = (millimetres: number): number => (millimetres / 25.4) * 72
  const left = points(geometry.left + (index % geometry.across) * geometry.stepAcross)
  const top = points(geometry.top + Math.floor(index / geometry.across) * geometry.stepDown)
  return {
    left: left + less,
    top: top + less,
    right: left + points(geometry.width) - less,
    bottom: top + points(geometry.height) - less,
  }
}

const SIXTEENTH = 72 / 16
/** Letters overhang and what is under the line; a hair of rounding. */
const HAIR = 0.05

/** Labels of every kind, with names and lots that are long, odd, or missing. */
const SOME: readonly Labelled[] = [
  aLotLabel(),
  aLotLabel({
    number: 'MEM-75-GPD-TFC',
    name: 'Membrane, thin film, 75 gallons a day, with check valve',
    lot: 'LOT-20261114-A',
  }),
  aLotLabel({ number: 'W'.repeat(40), name: 'W'.repeat(80), lot: 'W'.repeat(40) }),
  aLotLabel({ recalled: true, lot: 'Ä+50 %' }),
  aLotLabel({ expiresOn: null, name: 'O', lot: '1' }),
  { kind: 'part', number: 'P-2075', name: 'Carbon block, 10 micron, 10 in, for chloramine', gtin: '6291041500213' },
  { kind: 'part', number: 'P-9', name: 'Gasket', gtin: '6291041500214' },
  { kind: 'bin', bin: 'A-02-1', aisle: 'A' },
  { kind: 'bin', bin: 'the shelf behind the red door', aisle: '' },
]
const filled = (page: 'letter' | 'a4'): Labelled[] =>
  Array.from(
    { length: labelsOnSheet(labelSheet(page)) },
    (_, index) => SOME[(index * 5 + Math.floor(index / 9)) % SOME.length] ?? aLotLabel(),
  )

describe.each(GEOMETRIES)('on $name', (geometry) => {
  test('STK-33 words and bars of every label stand within it, a sixteenth of an inch from its edge', async () => {
    const labels = filled(geometry.page)
    const file = await labelsAsPdf(geometry.page, labels)
    const [page] = (await readPdf(file)).pages
    const [bars = []] = barsOnPages(file)
    const boxes = labels.map((_, index) => cutLabel(geometry, index, SIXTEENTH - HAIR))
    const homes = new Map<number, string[]>()
    const marks = [
      ...(page?.texts.map((each) => ({ ...each, bottom: each.base })) ?? []),
      ...bars.map((each) => ({ ...each, text: '' })),
    ]
    for (const mark of marks) {
      const home = boxes.findIndex(
        (box) => mark.left >= box.left && mark.right <= box.right && mark.top >= box.top && mark.bottom <= box.bottom,
      )
      expect(home, `${mark.text} at ${mark.left}, ${mark.top}`).toBeGreaterThanOrEqual(0)
      homes.set(home, [...(homes.get(home) ?? []), mark.text])
    }
    expect(homes.size).toBe(geometry.across * geometry.down)
    labels.forEach((label, index) => {
      if (label.kind === 'part' && label.number === 'P-2075') expect(homes.get(index)?.join(' ')).toContain('P-2075')
    })
  })

  test('STK-34 bars have ten modules of nothing on both sides within the label, none narrower than 10 thousandths of an inch', async () => {
    const labels = filled(geometry.page)
    const [bars = []] = barsOnPages(await labelsAsPdf(geometry.page, labels))
    expect(bars.length).toBeGreaterThan(labels.length / 2)
    for (const row of bars) {
      const module =
        (row.right - row.left) / row.widths.reduce((sum, width) => sum + Math.round(width / Math.min(...row.widths)), 0)
      expect(module).toBeGreaterThanOrEqual(0.72 - 0.001)
      const index = labels.findIndex((_, each) => {
        const box = cutLabel(geometry, each)
        return row.left >= box.left && row.right <= box.right && row.top >= box.top && row.bottom <= box.bottom
      })
      const box = cutLabel(geometry, index)
      expect(Math.min(row.left - box.left, box.right - row.right)).toBeGreaterThanOrEqual(10 * module - HAIR)
      expect(row.bottom - row.top).toBeGreaterThanOrEqual((5 / 25.4) * 72 - HAIR)
    }
  })
})

describe.each(['letter', 'a4'] as const)('the bars on %s', (page) => {
  const texts = [
    labelOfLot('P-1005', '2608-114'),
    labelOfPart('MEM-75-GPD-TFC'),
    labelOfLotAlone('LOT-20261114-A'),
    labelOfLot('P-1005', '1'),
    labelOfPart('P-2075'),
    labelOfPart('P-9'),
    labelOfBin('A-02-1'),
  ]

  test('STK-34 read off the page they say part and lot, in two rows where one is too long, and words alone where both are', async () => {
    const [bars = []] = barsOnPages(
      await labelsAsPdf(
        page,
        SOME.filter((each) => each.kind !== 'lot' || !each.recalled),
      ),
    )
    expect(bars.map((row) => row.code?.text)).toEqual(texts)
  })

  test('STK-34 a page of dots, drawn by another program, is scanned label by label', async () => {
    const labels = filled(page)
    const dots = asDots(await labelsAsPdf(page, labels), 600)
    // Poppler, where the machine has it.
    if (dots === null) return
    const seen = labels.map((_, index) => scannedIn(dots, labelPlace(labelSheet(page), index).box))
    labels.forEach((label, index) => {
      if (label.kind === 'bin' && label.bin === 'A-02-1') expect(seen[index]).toEqual(['+A-02-1'])
      if (label.kind === 'lot' && label.lot === '2608-114') expect(seen[index]).toEqual(['P-1005+2608-114'])
      if (label.kind === 'lot' && label.lot === 'LOT-20261114-A')
        expect(seen[index]).toEqual(['MEM-75-GPD-TFC+', '++LOT-20261114-A'])
      if (label.kind === 'lot' && label.lot.length === 40) expect(seen[index]).toEqual([])
    })
    expect(seen.flat().length).toBeGreaterThan(labels.length / 2)
  })

  test('STK-34 a part may carry its GTIN in the bars, as GS1-128; one that does not add up is not printed', async () => {
    const file = await labelsAsPdf(page, SOME.slice(5, 7), { partBars: 'gtin' })
    const [bars = []] = barsOnPages(file)
    expect(bars.map((row) => row.code)).toMatchObject([
      { text: '0106291041500213', isGs1: true },
      { text: 'P-9+', isGs1: false },
    ])
    const words = wordsOn((await readPdf(file)).pages[0])
    expect(words).toContain('GTIN 6291041500213')
    expect(words).toContain('(01)06291041500213')
    expect(words).not.toContain('6291041500214')
  })
})

test('STK-35 labels go on where a used sheet ends, over as many sheets as they take, each as often as wanted', async () => {
  const words = await labelsAsPdf('letter', [], {
    labels: [
      { words: { kind: 'bin', title: 'A-1', beside: '', line: '', lineBeside: '', bars: [] }, count: 3 },
      { words: { kind: 'bin', title: 'B-1', beside: '', line: '', lineBeside: '', bars: [] }, count: 31 },
    ],
    beginWith: 29,
  })
  const { pages } = await readPdf(words)
  expect(pages.map((page) => page.texts.map((each) => each.text))).toEqual([
    ['A-1', 'A-1'],
    ['A-1', ...Array.from({ length: 29 }, () => 'B-1')],
    ['B-1', 'B-1'],
  ])
  const [first] = pages[0]?.texts ?? []
  const box = wordsBox(labelSheet('letter'), labelPlace(labelSheet('letter'), 28).box)
  expect(first?.left).toBeCloseTo(box.x, 1)
})

test('STK-35 what a printer strays by is made good: everything moves, and nothing else changes', async () => {
  const [plain, moved] = await Promise.all(
    [shiftOf(0, 0), shiftOf(1.5, -0.5)].map(async (shift) => {
      const file = await labelsAsPdf('letter', [aLotLabel()], { shift })
      return { texts: (await readPdf(file)).pages[0]?.texts ?? [], bars: barsOnPages(file)[0] ?? [] }
    }),
  )
  const [right, down] = [(1.5 / 25.4) * 72, (-0.5 / 25.4) * 72]
  plain?.texts.forEach((text, index) => {
    expect(moved?.texts[index]?.left).toBeCloseTo(text.left + right, 1)
    expect(moved?.texts[index]?.base).toBeCloseTo(text.base + down, 1)
  })
  expect(moved?.bars[0]?.left).toBeCloseTo((plain?.bars[0]?.left ?? 0) + right, 1)
  expect(moved?.bars[0]?.code).toEqual(plain?.bars[0]?.code)
})

test('STK-35 the frames to hold against a sheet stand where the labels lie', async () => {
  const chunks: Uint8Array[] = []
  const sink = { write: (bytes: Uint8Array) => void chunks.push(bytes) }
  await writeLabelFrames(shiftOf(0, 0), labelFacts('a4'), sink)
  const file = Buffer.concat(chunks)
  expect(wordsOn((await readPdf(file)).pages[0])).toContain('hold it behind a sheet of labels')
  const lines = contentStreams(file).flatMap((stream) => [...stream.operators.matchAll(/([\d.]+) ([\d.]+) m/g)])
  const corners = lines.map(([, x, y]) => [Number(x), Number(y)])
  expect(corners).toHaveLength(21)
  const a4 = GEOMETRIES[2]
  if (a4)
    corners.forEach(([x, y], index) => {
      expect(x).toBeCloseTo(cutLabel(a4, index).left, 1)
      expect(y).toBeCloseTo(cutLabel(a4, index).top, 1)
    })
})

test('STK-35 the picture of the first sheet shows its labels and the cut around them, however many are to be printed', async () => {
  const words = { kind: 'bin' as const, title: 'A-1', beside: '', line: '', lineBeside: '', bars: [] }
  const print = { labels: [{ words, count: 1000 }], beginWith: 4, shift: shiftOf(0, 0) }
  const { picture } = await pictureLabels(print, labelFacts('letter'))
  expect(picture.marks.filter((mark) => mark.kind === 'text')).toHaveLength(27)
  expect(picture.marks.filter((mark) => mark.kind === 'outline')).toHaveLength(30)
})

test('STK-33 labels lie apart from each other and on their page', () => {
  fc.assert(
    fc.property(fc.constantFrom('letter' as const, 'a4' as const), fc.nat(200), fc.nat(200), (page, one, other) => {
      const sheet = labelSheet(page)
      const [a, b] = [labelPlace(sheet, one), labelPlace(sheet, other)]
      const apart = (x: 'x' | 'y', size: 'width' | 'height') =>
        a.box[x] >= b.box[x] + b.box[size] - 0.01 || b.box[x] >= a.box[x] + a.box[size] - 0.01
      expect(one === other || a.page !== b.page || apart('x', 'width') || apart('y', 'height')).toBe(true)
      expect(a.page).toBe(Math.floor(one / (page === 'letter' ? 30 : 21)))
    }),
  )
})

test('PAP-5 the marks of a label are closed in the stream that opened them, and a screen reader is told the bars', async () => {
  const file = await labelsAsPdf('letter', [aLotLabel({ expiresOn: calendarDate('2027-01-31') })])
  expect(contentStreams(file).flatMap(nestingFaults)).toEqual([])
  expect(Buffer.from(file).toString('latin1')).toContain('Bars that say P-1005+2608-114')
})
