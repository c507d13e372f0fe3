import type { Paper, PaperFacts } from '../paper/paper.ts'
import { type PaperMade, type PaperSink, streamPaper } from '../paper/stream-paper.ts'
import { type Cell, type Column, drawTable, type Row } from '../paper/table.ts'
import { TYPE_SIZES } from '../paper/text-block.ts'
import { shortDate, spanInWords } from '../units/date-words.ts'
import { type Cents, formatCents } from '../units/money.ts'
import type { PartWorth, Worth } from './worth-shapes.ts'

const BODY = { size: TYPE_SIZES.body } as const
const SMALL = { size: TYPE_SIZES.note, ink: 'second' } as const
const PLACE_KIND = { bin: 'bin', van: 'van', quarantine: 'quarantine', transit: 'on the way' } as const

/** What the stock is worth on a day: the sentences for the owner, then parts, places, and lots that expire. */
export function writeWorthPaper(
  worth: Worth,
  currency: string,
  facts: PaperFacts,
  sink: PaperSink,
): Promise<PaperMade> {
  return streamPaper(
    facts,
    async (paper, letOut) => {
      paper.beginSection({ footNote: facts.title })
      paper.heading(facts.title)
      for (const sentence of worth.sentences) paper.text(sentence, BODY)
      paper.gap(6)
      paper.text('Valued at what was paid, first in, first out, lot by lot; without tax and freight.', SMALL)
      paper.gap(12)
      const writer = new WorthTables(paper, worth, currency)
      writer.parts()
      writer.places()
      writer.expiring()
      paper.endSection()
      await letOut()
    },
    sink,
  )
}

class WorthTables {
  readonly #paper: Paper
  readonly #worth: Worth
  readonly #currency: string

  constructor(paper: Paper, worth: Worth, currency: string) {
    this.#paper = paper
    this.#worth = worth
    this.#currency = currency
  }

  parts(): void {
    const lying = this.#worth.parts.filter((part) => part.pieces > 0)
    this.#table(
      'Part by part',
      [
        { head: 'Part', width: 'rest' },
        { head: 'Pieces', width: 36, align: 'right' },
        { head: `Value, ${this.#currency}`, width: 60, align: 'right' },
        { head: 'In bins', width: 56, align: 'right' },
        { head: 'On vans', width: 48, align: 'right' },
        { head: 'Rests for', width: 54 },
        ...(this.#worth.isToday ? [{ head: 'Enough for', width: 60 }] : []),
      ],
      [...lying.map((part) => this.#partRow(part)), this.#total(lying.reduce((sum, part) => sum + part.pieces, 0))],
    )
  }

  #partRow(part: PartWorth): Row {
    const rest = part.restDays === null ? '' : spanInWords(part.restDays)
    const cells: Cell[] = [
      { lines: [{ wording: part.name }, { wording: part.number, style: SMALL }] },
      String(part.pieces),
      this.#money(part.value),
      this.#money(part.inBins),
      this.#money(part.onVans),
      { lines: [{ wording: rest, style: part.rests ? { weight: 'semibold' } : {} }] },
    ]
    return { cells: this.#worth.isToday ? [...cells, coverWords(part)] : cells }
  }

  #total(pieces: number): Row {
    const { value, inBins, onVans, isToday } = this.#worth
    const cells = ['In all', String(pieces), this.#money(value), this.#money(inBins), this.#money(onVans), '']
    return { cells: isToday ? [...cells, ''] : cells, strong: true, rule: 'firm' }
  }

  places(): void {
    this.#table(
      'Place by place',
      [
        { head: 'Place', width: 'rest' },
        { head: 'Kind', width: 90 },
        { head: 'Parts', width: 50, align: 'right' },
        { head: 'Pieces', width: 60, align: 'right' },
        { head: `Value, ${this.#currency}`, width: 80, align: 'right' },
      ],
      this.#worth.places.map((place) => ({
        cells: [
          place.name,
          PLACE_KIND[place.kind],
          String(place.parts),
          String(place.pieces),
          this.#money(place.value),
        ],
      })),
    )
  }

  expiring(): void {
    const { locale } = this.#paper.facts
    this.#table(
      'Lots that expire within 90 days, or have',
      [
        { head: 'Part and lot', width: 'rest' },
        { head: 'Expires', width: 76 },
        { head: 'Pieces', width: 50, align: 'right' },
        { head: 'Used by then', width: 72, align: 'right' },
        { head: `Likely left, ${this.#currency}`, width: 92, align: 'right' },
      ],
      this.#worth.expiring.map((lot) => ({
        cells: [
          { lines: [{ wording: lot.name }, { wording: `${lot.number}, lot ${lot.lot}`, style: SMALL }] },
          shortDate(lot.expiresOn, locale),
          String(lot.pieces),
          String(lot.willBeUsed),
          this.#money(lot.atRisk),
        ],
      })),
    )
  }

  #table(title: string, columns: readonly Column[], rows: readonly Row[]): void {
    if (rows.length === 0) return
    // A heading stays with the first rows of its table.
    this.#paper.ensure(110)
    this.#paper.subheading(title)
    this.#paper.gap(2)
    drawTable(this.#paper, columns, rows, { size: 9, padding: 3, columnGap: 8 })
    this.#paper.gap(16)
  }

  #money(amount: Cents): string {
    return amount === 0 ? '' : formatCents(amount, this.#currency, this.#paper.facts.locale, true)
  }
}

/** "12 days", "over 2 years"; a dash where nobody knows of any use. */
function coverWords({ coverDays }: PartWorth): string {
  if (coverDays === null) return 'no use known'
  return coverDays > 730 ? 'over 2 years' : spanInWords(coverDays)
}
