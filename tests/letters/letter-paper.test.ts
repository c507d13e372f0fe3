import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'
import { describe, expect, test } from 'vitest'
import { exampleHousehold } from '../../core/letters/example-household.ts'
import type { LetterPage, LetterRunFacts } from '../../core/letters/letter-page.ts'
import { pictureLetter, writeLetters } from '../../core/letters/letter-paper.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { installationIdSchema, stageIdSchema } from '../../core/units/ids.ts'
import { aLetterPage, someRunFacts } from '../builders/a-letter-page.ts'
import { DIN, INCH, MM, shown, US_10, wholly } from '../judges/envelope-windows.ts'
import { readPdf, wordsOn } from '../judges/read-pdf.ts'

async function printed(pages: readonly LetterPage[], changes: Partial<LetterRunFacts> = {}) {
  const chunks: Uint8Array[] = []
  const made = await writeLetters(pages, someRunFacts(changes), {
    write: (bytes) => {
      chunks.push(bytes)
    },
  })
  const file = Buffer.concat(chunks)
  return { made, file, paper: await readPdf(file) }
}

/** pdf.js makes one space of several. */
const oneSpace = (text: string): string => text.replace(/\s+/g, ' ')

const fiveLines = {
  names: ['Łucja Müller-Węgrzynowicz', 'c/o Property Office Hohenstein'],
  street: '12345 North Upper Weirside Boulevard',
  unit: 'Apt 1204',
  town: 'Tollard Mill',
  region: 'XX',
  postalCode: '00142-0417',
}
const plain = exampleHousehold(calendarDate('2026-11-05')).address

const CASES = [
  { window: US_10, facts: {}, settings: {} },
  ...[DIN('DL', 220, 110), DIN('C6/5', 229, 114)].map((window) => ({
    window,
    facts: { pageSize: 'a4', windowEnvelope: 'din-5008-b', locale: 'de-DE' } as const,
    settings: { locale: 'de-DE', currency: 'EUR', pageSize: 'a4', windowEnvelope: 'din-5008-b' } as const,
  })),
]

describe.each(CASES)('LET-11 in the window of $window.name', ({ window, facts, settings }) => {
  test.each([
    { lines: 'three lines', address: plain },
    { lines: 'five lines', address: fiveLines },
  ])(
    'LET-11 an address of $lines stands whole wherever the sheet slips, and nothing else shows',
    async ({ address }) => {
      const page = aLetterPage(settings, { address })
      const { paper } = await printed([page], facts)
      const texts = paper.pages[0]?.texts ?? []
      const joined = oneSpace(page.addressLines.join(' '))
      for (const right of [0, window.slipRight / 2, window.slipRight])
        for (const down of [0, window.slipDown / 2, window.slipDown]) {
          const seen = shown(texts, window, right, down)
          const address = seen.filter((text) => !text.text.startsWith('Larkmoor Water ·'))
          expect(oneSpace(address.map((text) => text.text).join(' '))).toBe(joined)
          expect(address.filter((text) => !wholly(text, window, right, down))).toEqual([])
        }
    },
  )
})

test('LET-11 the address of a US letter keeps 1/8 in from the window’s sides and lies in the read area', async () => {
  // USPS Quick Service Guide 201a: at least 1/8 in clear on the left and right. DMM 202.2.1: the read area reaches from 5/8 to
  // 2 3/4 in above the bottom edge of the envelope.
  const page = aLetterPage()
  const { paper } = await printed([page])
  const address = (paper.pages[0]?.texts ?? []).filter((text) => shown([text], US_10, 0, 0).length > 0)
  expect(address).toHaveLength(3)
  for (const right of [0, US_10.slipRight])
    for (const text of address) {
      expect(text.left + right - US_10.left).toBeGreaterThanOrEqual(INCH / 8 - 0.01)
      expect(US_10.right - text.right - right).toBeGreaterThanOrEqual(INCH / 8 - 0.01)
    }
  for (const down of [0, US_10.slipDown])
    for (const text of address) {
      expect(4.125 * INCH - (text.base + down)).toBeGreaterThanOrEqual((5 / 8) * INCH - 0.01)
      expect(4.125 * INCH - (text.top + down)).toBeLessThanOrEqual(2.75 * INCH + 0.01)
    }
})

test('LET-11 on A4 the address field is where DIN 5008 form B has it', async () => {
  // DIN 5008 form B (KOMA-Script DIN.lco): field 45 mm from the top, 20 mm from the left, 85 x 45 mm; text at 25 mm.
  const settings = { locale: 'de-DE', pageSize: 'a4', windowEnvelope: 'din-5008-b' } as const
  const page = aLetterPage(settings)
  const { paper } = await printed([page], { pageSize: 'a4', windowEnvelope: 'din-5008-b', locale: 'de-DE' })
  const address = (paper.pages[0]?.texts ?? []).filter(
    (text) => text.base < 120 * MM && page.addressLines.includes(text.text),
  )
  expect(address).toHaveLength(page.addressLines.length)
  for (const text of address) {
    expect(text.left / MM).toBeCloseTo(25, 1)
    expect(text.right / MM).toBeLessThanOrEqual(105)
    expect(text.top / MM).toBeGreaterThanOrEqual(45 + 17.7)
    expect(text.base / MM).toBeLessThanOrEqual(90)
  }
})

test('LET-15 a letter of one unit is one page, with its slip at the foot and nothing beyond the edges', async () => {
  for (const facts of [{}, { pageSize: 'a4', windowEnvelope: 'din-5008-b' } as const]) {
    const { paper } = await printed([aLetterPage()], facts)
    expect(paper.pages).toHaveLength(1)
    const [page] = paper.pages
    for (const text of page?.texts ?? []) {
      expect(text.left).toBeGreaterThan(10 * MM)
      expect(text.right).toBeLessThan((page?.width ?? 0) - 10 * MM)
      expect(text.base).toBeLessThan((page?.height ?? 0) - 8 * MM)
    }
    expect(wordsOn(page)).toContain('we have moved')
  }
})

test('LET-15 twelve stages, five units and a long wording go on to a second page whole, and are numbered', async () => {
  const [site] = exampleHousehold(calendarDate('2026-11-05')).sites
  if (!site) throw new Error('the example has a place')
  const units = Array.from({ length: 5 }, (_, unit) =>
    [...site.stages, ...site.stages, ...site.stages.slice(0, 2)].map((stage, index) => ({
      ...stage,
      stageId: stageIdSchema.parse(unit * 20 + index + 1),
      installationId: installationIdSchema.parse(unit + 1),
    })),
  ).flat()
  const page = aLetterPage({}, { sites: [{ ...site, stages: units }] })
  const { paper } = await printed([page])
  expect(paper.pages.length).toBeGreaterThan(1)
  const words = paper.pages.map(wordsOn).join(' ')
  expect(words).toContain(page.subject.split(' ').slice(0, 4).join(' '))
  expect(words.match(/Membrane/g)).toHaveLength(10)
  expect(words).toContain('a certified laboratory does.')
  expect(wordsOn(paper.pages.at(-1))).toContain('we have moved')
  expect(wordsOn(paper.pages[0])).toContain(`page 1 of ${paper.pages.length}`)
})

test('LET-15 the name of a unit stays on the page of its drawing, however many units there are', async () => {
  const [site] = exampleHousehold(calendarDate('2026-11-05')).sites
  if (!site) throw new Error('the example has a place')
  for (const facts of [{}, { pageSize: 'a4', windowEnvelope: 'din-5008-b' } as const])
    for (let count = 2; count <= 6; count += 1) {
      const stages = Array.from({ length: count }, (_, unit) =>
        site.stages.map((stage, index) => ({
          ...stage,
          stageId: stageIdSchema.parse(unit * 20 + index + 1),
          installationId: installationIdSchema.parse(unit + 1),
          unit: `Unit number ${unit + 1}`,
        })),
      ).flat()
      const { paper } = await printed([aLetterPage({}, { sites: [{ ...site, stages }] })], facts)
      for (const page of paper.pages) {
        const seen = wordsOn(page)
        expect(seen.match(/Unit number/g)?.length ?? 0).toBe(seen.match(/Post carbon/g)?.length ?? 0)
      }
    }
})

test('PAP-1 the typeface is embedded, letters of every language come out, and what it lacks is a square and said', async () => {
  const address = { ...plain, names: ['Łucja Müller 水 🚰'] }
  const { file, made, paper } = await printed([aLetterPage({}, { address, salutation: 'Dear Łucja Müller 水 🚰' })])
  const text = file.toString('latin1')
  expect(text).not.toMatch(/Helvetica|Times-Roman|Courier/)
  expect(text.match(/\/FontFile2/g)?.length).toBe(2)
  expect(wordsOn(paper.pages[0])).toContain('Dear Łucja Müller □ □,')
  expect(made.missing).toEqual(['水', '🚰'])
})

test('PAP-2 the same letters give the same bytes', async () => {
  const [first, second] = [await printed([aLetterPage()]), await printed([aLetterPage()])]
  expect(first.file.equals(second.file)).toBe(true)
  expect(first.paper.title).toBe('Letters of November 5')
})

test('LET-13 the picture on the screen says what the page says, in the same places', async () => {
  const page = aLetterPage()
  const { picture, pages } = await pictureLetter(page, someRunFacts())
  const { paper } = await printed([page])
  const marks = picture.marks.flatMap((mark) => (mark.kind === 'text' ? [mark] : []))
  expect(pages).toBe(1)
  expect(marks.map((mark) => mark.text).join(' ')).toContain(page.subject)
  for (const seen of paper.pages[0]?.texts ?? []) {
    const same = marks.some((mark) => Math.abs(mark.x - seen.left) < 0.1 && Math.abs(mark.y - seen.base) < 0.1)
    expect(
      same ||
        marks.some(
          (mark) => Math.abs(mark.y - seen.base) < 0.1 && oneSpace(mark.text).includes(oneSpace(seen.text.trim())),
        ),
      seen.text,
    ).toBe(true)
  }
})

interface Heard {
  readonly role: string
  readonly alt?: string
  readonly children: readonly (Heard | { readonly type: string; readonly id: string })[]
}

/** What a screen reader walks through on the first page: roles with what is said under each, in order. */
async function readAloud(file: Uint8Array): Promise<string[]> {
  const task = getDocument({ data: new Uint8Array(file), verbosity: 0 })
  const page = await (await task.promise).getPage(1)
  const { items } = await page.getTextContent({ includeMarkedContent: true })
  const said = new Map<string, string>()
  let open = ''
  for (const item of items) {
    if ('str' in item) said.set(open, `${said.get(open) ?? ''}${item.str}${item.hasEOL ? ' ' : ''}`)
    else if (item.type === 'beginMarkedContentProps') open = item.id ?? ''
    else open = ''
  }
  const lines: string[] = []
  const walk = (node: Heard): void => {
    const words = node.children.flatMap((child) => ('id' in child ? [said.get(child.id) ?? ''] : []))
    if (words.length > 0) lines.push(`${node.role}: ${(node.alt ?? words.join(' ')).replace(/\s+/g, ' ').trim()}`)
    else if (node.role === 'Table' || node.role === 'TR') lines.push(node.role)
    for (const child of node.children) if ('role' in child) walk(child)
  }
  walk((await page.getStructTree()) as Heard)
  await task.destroy()
  return lines
}

test('PAP-6 a letter is read aloud in order: sender, address, date, heading, words, drawing, price, answer, cautions, slip', async () => {
  const page = aLetterPage()
  const heard = await readAloud((await printed([page])).file)
  const at = (beginning: string): number => heard.findIndex((line) => line.startsWith(beginning))
  const order = [
    'P: Larkmoor Water',
    'P: 4 Sluice Yard',
    'P: IDRIS BEXHILL-MORENO',
    'P: November 5, 2026',
    `H1: ${page.subject}`,
    'P: Dear Idris Bexhill-Moreno,',
    'P: In early December',
    'Figure: From feed to tap: Sediment',
    'Table',
    'TH: Sediment filter, carbon filter, polishing filter',
    'TD: $86.40',
    'TH: Together, with sales tax',
    'TD: $158.82',
    'P: Call 555-0100',
    'P: If you do it yourself',
    'P: BM-0417',
    'P: we have moved',
  ].map(at)
  expect(order).not.toContain(-1)
  expect(order).toEqual(order.toSorted((a, b) => a - b))
})
