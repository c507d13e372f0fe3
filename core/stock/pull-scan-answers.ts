import type { Desk, OpenBooks } from '../answering.ts'
import { type Problem, problem } from '../problems.ts'
import { ok, type Result } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import type { PlaceId, PullId } from '../units/ids.ts'
import { openPull } from './open-pull-answers.ts'
import { findPlaceByName } from './places-store.ts'
import type { ScanSaid, ScanTicks } from './pull-contract.ts'
import { type KnownByScan, meaningOfScan, nextWords, type ScanLine, type ScanMeaning } from './pull-scan.ts'
import { lotsByNumber, partsByGtin, partsByNumber } from './pull-scan-store.ts'
import { linesOfPulls, type PullRow, stopsOfLines, tickLine } from './pulls-store.ts'
import { readScan, type ScannedCode } from './scanned-code.ts'

interface Scanned {
  readonly pullId: PullId
  readonly typed: string
  readonly hand: PlaceId | null
  readonly ticks: ScanTicks
}

/** Reads a scan and does what it means, in one transaction: two who scan at once both count. A no is said, not refused. */
export function scan(desk: Desk, input: Scanned): Promise<Result<ScanSaid>> {
  return desk.write(async (books) => {
    const opened = await openPull(books, input.pullId)
    if (!opened.ok) return ok(saidNo(opened.problem, input.hand))
    const lines = await scanLines(books, opened.value)
    const code = readScan(input.typed, books.today)
    const { locale } = await readSettings(books.read, books.officeId)
    const known = await knownByScan(books, code)
    const { hand, ticks } = input
    const meaning = meaningOfScan({ code, lines, known, hand, ticks, fittedOn: opened.value.pullOn, locale })
    return ok(await carryOut(books, input, lines, meaning))
  })
}

async function scanLines(books: OpenBooks, pull: PullRow): Promise<ScanLine[]> {
  const { read, officeId } = books
  const rows = (await linesOfPulls(read, officeId, [pull.pullId])).filter((row) => row.placeId !== pull.vanPlaceId)
  const stops = await stopsOfLines(
    read,
    officeId,
    rows.map((row) => row.lineId),
  )
  return rows.map((row) => ({
    ...row,
    bin: row.binCode,
    lot: row.lotNumber,
    recalled: row.recalledOn !== null,
    pulled: row.pulled ?? 0,
    totes: stops.filter((stop) => stop.lineId === row.lineId),
  }))
}

/** What the books know under the words of a scan. */
async function knownByScan({ read, officeId }: OpenBooks, code: ScannedCode): Promise<KnownByScan> {
  if (code.kind === 'spoilt') return { parts: [], lots: [], place: null }
  const bin = code.kind === 'bin' ? code.bin : code.kind === 'text' ? code.text : null
  const place =
    bin === null
      ? null
      : ((await findPlaceByName(read, officeId, bin)) ?? (await findPlaceByName(read, officeId, bin.toUpperCase())))
  if (code.kind === 'bin') return { parts: [], lots: [], place }
  if (code.kind === 'text')
    return {
      parts: await partsByNumber(read, officeId, code.text),
      lots: await lotsByNumber(read, officeId, code.text, null),
      place,
    }
  if (code.kind === 'lot') return { parts: [], lots: await lotsByNumber(read, officeId, code.lot, null), place }
  const parts =
    code.kind === 'gtin'
      ? await partsByGtin(read, officeId, code.gtin)
      : await partsByNumber(read, officeId, code.partNumber)
  const ids = parts.map((part) => part.partId)
  return { parts, lots: code.lot === null ? [] : await lotsByNumber(read, officeId, code.lot, ids), place }
}

async function carryOut(
  books: OpenBooks,
  input: Scanned,
  lines: readonly ScanLine[],
  meaning: ScanMeaning,
): Promise<ScanSaid> {
  if (meaning.kind === 'no') {
    const said = saidNo(problem(meaning.code, meaning.facts), input.hand)
    return { ...said, lineId: meaning.lineId, otherLotId: meaning.otherLotId }
  }
  const bare = { code: null, otherLotId: null }
  if (meaning.kind === 'hand') {
    const { line, bin, placeId } = meaning
    const sentence =
      line === null
        ? `Everything from ${bin} is in the totes.`
        : `At ${bin}: ${line.quantity - line.pulled} of ${line.partName}, lot ${line.lot}.`
    return {
      ...bare,
      kind: 'hand',
      sentence,
      nextStep: line ? '' : nextWords(lines),
      lineId: line?.lineId ?? null,
      placeId,
    }
  }
  const { line, pulled, stop } = meaning
  await tickLine(books.tx, books.officeId, line.lineId, { pulled, at: books.now, by: books.by })
  const after = lines.map((each) => (each === line ? { ...each, pulled } : each))
  const tote = stop !== null ? ` Tote ${stop}.` : line.totes.length === 0 ? ' For the van itself.' : ''
  return {
    ...bare,
    kind: 'ticked',
    sentence: `${pulled} of ${line.quantity}: ${line.partName}, lot ${line.lot}.${tote}`,
    nextStep: pulled < line.quantity ? '' : nextWords(after),
    lineId: line.lineId,
    placeId: line.placeId,
  }
}

function saidNo(said: Problem, hand: PlaceId | null): ScanSaid {
  const { sentence, nextStep, code } = said
  return { kind: 'no', sentence, nextStep, code, lineId: null, placeId: hand, otherLotId: null }
}
