import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { contentStreams } from './content-streams.ts'
import { readCode128, type SeenCode } from './read-code-128.ts'

/** A row of black bars on a page: points from the sheet's top left corner. */
export interface SeenBars {
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
  /** Bar, space, bar ... in points. */
  readonly widths: readonly number[]
  readonly code: SeenCode | null
}

interface Bar {
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
}

/** Every row of bars on each page, out of the page's own operators: what was drawn, before any printer had a hand in it. */
export function barsOnPages(file: Uint8Array): SeenBars[][] {
  return contentStreams(file)
    .filter((stream) => stream.isPage)
    .map(({ operators }) => rowsOf(blackBoxes(operators)))
}

/** Closed paths of four corners that were filled in black. */
function blackBoxes(operators: string): Bar[] {
  const boxes: Bar[] = []
  let ink = ''
  let corners: [number, number][] = []
  let open: Bar[] = []
  for (const line of operators.split('\n')) {
    const words = line.split(/\s+/)
    const numbers: number[] = []
    for (const word of words) {
      if (/^-?[\d.]+$/.test(word)) {
        numbers.push(Number(word))
        continue
      }
      const [x = 0, y = 0] = numbers.slice(-2)
      if (word === 'rg') ink = numbers.slice(-3).join(' ')
      if (word === 'm') corners = [[x, y]]
      if (word === 'l') corners.push([x, y])
      if (word === 'h') open.push(boxAround(corners))
      if (word === 'f' && ink === '0 0 0') boxes.push(...open)
      if (word === 'f' || word === 'S' || word === 'B') open = []
      numbers.length = 0
    }
  }
  return boxes
}

function boxAround(corners: readonly [number, number][]): Bar {
  const [xs, ys] = [corners.map(([x]) => x), corners.map(([, y]) => y)]
  return { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) }
}

/** Bars of one height that stand close together are a row. */
function rowsOf(bars: readonly Bar[]): SeenBars[] {
  const rows: Bar[][] = []
  for (const bar of bars) {
    const row = rows.at(-1)
    const last = row?.at(-1)
    if (row && last && last.top === bar.top && bar.left > last.right && bar.left - last.right < 8) row.push(bar)
    else rows.push([bar])
  }
  return rows.map((row) => {
    const widths = row.flatMap((bar, place) => {
      const next = row[place + 1]
      return next ? [bar.right - bar.left, next.left - bar.right] : [bar.right - bar.left]
    })
    const [first, last] = [row[0], row.at(-1)]
    const { left = 0, top = 0, bottom = 0 } = first ?? {}
    return { left, right: last?.right ?? 0, top, bottom, widths, code: readCode128(widths) }
  })
}

/** A page as dots of grey, drawn by a renderer of another make. Null where the machine has none. */
export interface GreyPage {
  readonly dotsToInch: number
  readonly width: number
  readonly height: number
  readonly dots: Uint8Array
}

/** The first page by Poppler, where the machine has it. */
export function asDots(file: Uint8Array, dotsToInch: number): GreyPage | null {
  const poppler = (tool: string, ...words: string[]) => spawnSync(tool, words)
  if (poppler('pdftoppm', '-v').status !== 0) return null
  const folder = mkdtempSync(join(tmpdir(), 'penstock-bars-'))
  writeFileSync(join(folder, 'page.pdf'), file)
  const page = ['-f', '1', '-l', '1', '-singlefile']
  poppler('pdftoppm', '-r', String(dotsToInch), '-gray', ...page, join(folder, 'page.pdf'), join(folder, 'page'))
  const pgm = readFileSync(join(folder, 'page.pgm'))
  rmSync(folder, { recursive: true })
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(pgm.subarray(0, 40).toString('latin1'))
  return { dotsToInch, width: Number(head?.[1]), height: Number(head?.[2]), dots: pgm.subarray(head?.[0].length ?? 0) }
}

/** What a scanner reads that is drawn across a box (points) at any height: each text once, in the order from the top. */
export function scannedIn(page: GreyPage, box: { x: number; y: number; width: number; height: number }): string[] {
  const dot = (points: number): number => Math.round((points / 72) * page.dotsToInch)
  const found: string[] = []
  for (let y = dot(box.y); y < dot(box.y + box.height); y += Math.ceil(page.dotsToInch / 30)) {
    const line = page.dots.subarray(y * page.width + dot(box.x), y * page.width + dot(box.x + box.width))
    const code = readCode128(runsOf(line))
    if (code && found.at(-1) !== code.text) found.push(code.text)
  }
  return found
}

/** Widths of dark and light in turn, from the first dark to the last. */
function runsOf(line: Uint8Array): number[] {
  const runs: number[] = []
  let dark = false
  for (const grey of line) {
    const isDark = grey < 128
    if (runs.length === 0 && !isDark) continue
    if (runs.length > 0 && isDark === dark) runs[runs.length - 1] = (runs.at(-1) ?? 0) + 1
    else runs.push(1)
    dark = isDark
  }
  return dark ? runs : runs.slice(0, -1)
}
