import { createWriteStream, mkdtempSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { finished } from 'node:stream/promises'
import PDFDocument from 'pdfkit'
import type { PricedLetterPage } from '../../core/letters/letter-page.ts'
import { writeLetters } from '../../core/letters/letter-paper.ts'
import { typefaceFiles } from '../../core/paper/typeface-files.ts'
import { aLetterPage, someRunFacts } from '../builders/a-letter-page.ts'

interface Drawn {
  readonly seconds: number
  readonly bytes: number
}

const model = aLetterPage()

/** Every letter has its own names, number and street: nothing can be drawn once and used again. */
function* pages(count: number): Generator<PricedLetterPage> {
  for (let index = 0; index < count; index += 1) {
    const name = `Idris${index} Bexhill${index * 7}-Moreno`
    yield {
      ...model,
      reference: `BM-${index}`,
      addressLines: [name.toUpperCase(), `${index} MILLRACE CT APT 2`, 'TOLLARD MILL XX\u00a0\u00a000142'],
      salutation: `Dear ${name}`,
      answer: `Call 555-0100 and name BM-${index}, or send the slip back.`,
      slipName: name,
    }
  }
}

/** What bare pdfkit is given: the same words in the same font, each text where it falls, no outlines. */
function textsOf(page: PricedLetterPage): readonly (readonly [text: string, size: number, bold: boolean])[] {
  const facts = someRunFacts()
  return [
    [facts.officeName, 15, true],
    [facts.particulars.join(' · '), 9, false],
    ...page.addressLines.map((line) => [line, 11, false] as const),
    [`November 5, 2026\nOur reference ${page.reference}`, 10.5, false],
    [page.subject, 14.5, true],
    [`${page.salutation},`, 11, false],
    ...page.body.split(/\n+/).map((line) => [line, 11, false] as const),
    ...page.trains.flatMap(({ stages }) =>
      stages.flatMap((stage) => [[stage.label, 8, true] as const, [`due ${stage.dueOn ?? ''}`, 8, false] as const]),
    ),
    [page.price.parts, 11, false],
    ['The call', 11, false],
    ['Together, with sales tax', 11, true],
    ['$86.40', 11, false],
    ['64.00', 11, false],
    ['$158.82', 11, true],
    [page.answer, 11, true],
    [page.cautions, 8.5, false],
    [`${page.reference}\n${page.slipName}`, 10.5, false],
    ['come on ________________\ncall me in the morning / evening\nnot this time\nwe have moved', 10.5, false],
  ]
}

/** Bare pdfkit. */
export const drawBare = (count: number): Promise<Drawn> => timed((file) => writeBare(file, count))

/** Our papers. */
export const drawOurs = (count: number): Promise<Drawn> => timed((file) => writeOurs(file, count))

async function timed(write: (file: string) => Promise<void>): Promise<Drawn> {
  const folder = mkdtempSync(join(tmpdir(), 'penstock-letters-'))
  const file = join(folder, 'letters.pdf')
  const began = process.hrtime.bigint()
  await write(file)
  const seconds = Number(process.hrtime.bigint() - began) / 1e9
  const bytes = statSync(file).size
  rmSync(folder, { recursive: true })
  return { seconds, bytes }
}

async function writeBare(file: string, count: number): Promise<void> {
  const doc = new PDFDocument({ size: 'LETTER', margin: 50, autoFirstPage: false })
  const out = createWriteStream(file)
  doc.pipe(out)
  doc.registerFont('regular', Buffer.from(typefaceFiles().regular))
  doc.registerFont('semibold', Buffer.from(typefaceFiles().semibold))
  for (const page of pages(count)) {
    doc.addPage()
    for (const [text, size, bold] of textsOf(page))
      doc
        .font(bold ? 'semibold' : 'regular')
        .fontSize(size)
        .text(text, { width: 475 })
  }
  doc.end()
  await finished(out)
}

async function writeOurs(file: string, count: number): Promise<void> {
  const out = createWriteStream(file)
  await writeLetters(pages(count), someRunFacts(), {
    write: (bytes) =>
      new Promise<void>((resolve, reject) => out.write(bytes, (error) => (error ? reject(error) : resolve()))),
  })
  out.end()
  await finished(out)
}
