import type { Points } from './page-geometry.ts'
import type { Paper } from './paper.ts'
import { drawText, lineHeightOf, type SetText, type TextStyle, TYPE_SIZES, type Wording } from './text-block.ts'

export interface Column {
  /** Empty for a column without a head, such as the tick boxes. */
  readonly head: string
  /** Points, or `rest`: what the others leave, shared among such columns. */
  readonly width: Points | 'rest'
  /** Figures stand under each other when set right: those of the typeface are all equally wide. */
  readonly align?: 'left' | 'right'
}

/** A drawing in a cell, such as a tick box or the numbers of totes; `x, y` is its top left corner. */
export interface CellDrawing {
  readonly height: Points
  readonly draw: (x: Points, y: Points, width: Points) => void
}

/** A wording; or lines of wordings in their own size (a part, and under it, small, its lot); or a drawing. */
export type Cell =
  | Wording
  | { readonly lines: readonly { readonly wording: Wording; readonly style?: Partial<TextStyle> }[] }
  | CellDrawing

export interface Row {
  readonly cells: readonly Cell[]
  /** Set in the heavier weight, for totals. */
  readonly strong?: boolean
  /** The rule below the row; hair when not said. */
  readonly rule?: 'none' | 'hair' | 'firm'
}

export interface TableStyle {
  readonly size?: Points
  /** Space above and below the words of a row. */
  readonly padding?: Points
  readonly columnGap?: Points
}

interface Place {
  readonly x: Points
  readonly width: Points
}

/**
 * A table in the flow: heads over a firm line, rows kept whole, heads again on every page. A row taller than a page is the only
 * thing that runs on below the margin, and then the page simply ends with it.
 */
export function drawTable(
  paper: Paper,
  columns: readonly Column[],
  rows: readonly Row[],
  style: TableStyle = {},
): void {
  const { size = TYPE_SIZES.body, padding = 4, columnGap = 10 } = style
  const places = placesOf(paper, columns, columnGap)
  const hasHeads = columns.some((column) => column.head !== '')
  paper.structure('Table', {}, () => {
    if (hasHeads && rows.length === 0) drawHeads(paper, columns, places)
    for (const [at, row] of rows.entries()) {
      const cells = row.cells.map((cell, index) => setCell(paper, cell, places[index], columns[index], { size, row }))
      const height = cells.reduce((most, cell) => Math.max(most, cell.height), 0) + 2 * padding
      // Heads never stand alone at the foot of a page.
      if (hasHeads && at === 0) drawHeads(paper, columns, places, height)
      if (paper.ensure(height) && hasHeads) paper.pen.content('Artifact', () => drawHeads(paper, columns, places))
      drawRow(paper, cells, places, height, padding)
      if (row.rule !== 'none') paper.ruleAt(paper.area.x, paper.y, paper.area.width, row.rule ?? 'hair')
    }
  })
}

interface SetCell {
  readonly height: Points
  readonly draw: (place: Place, y: Points) => void
}

function drawRow(
  paper: Paper,
  cells: readonly SetCell[],
  places: readonly Place[],
  height: Points,
  padding: Points,
): void {
  const top = paper.y + padding
  paper.structure('TR', {}, () =>
    cells.forEach((cell, index) => {
      const place = places[index]
      if (!place) return
      paper.structure('TD', {}, () => paper.pen.content('TD', () => cell.draw(place, top)))
    }),
  )
  paper.y += height
}

function drawHeads(paper: Paper, columns: readonly Column[], places: readonly Place[], firstRow = 0): void {
  const look: TextStyle = { size: TYPE_SIZES.note, ink: 'second' }
  const heads = columns.map(
    (column, index): SetText =>
      paper.set(column.head, places[index]?.width ?? 0, { ...look, align: column.align ?? 'left' }),
  )
  const height = heads.reduce((most, head) => Math.max(most, head.height), lineHeightOf(look)) + 4
  paper.ensure(height + Math.max(40, firstRow))
  const foot = paper.y + height - 3
  paper.structure('TR', {}, () =>
    heads.forEach((head, index) => {
      const place = places[index]
      if (place)
        paper.structure('TH', { scope: 'Column' }, () =>
          paper.pen.content('TH', () => drawText(paper.pen, head, place.x, foot - head.height, place.width)),
        )
    }),
  )
  paper.y += height
  paper.ruleAt(paper.area.x, paper.y, paper.area.width, 'firm')
}

function setCell(
  paper: Paper,
  cell: Cell,
  place: Place | undefined,
  column: Column | undefined,
  look: { size: Points; row: Row },
): SetCell {
  const width = place?.width ?? 0
  if (typeof cell === 'object' && 'draw' in cell)
    return { height: cell.height, draw: ({ x, width: wide }, y) => cell.draw(x, y, wide) }
  const style: TextStyle = {
    size: look.size,
    weight: look.row.strong ? 'semibold' : 'regular',
    align: column?.align ?? 'left',
  }
  const lines = typeof cell === 'object' && 'lines' in cell ? cell.lines : [{ wording: cell }]
  const set = lines.map((line) => paper.set(line.wording, width, { ...style, ...('style' in line ? line.style : {}) }))
  return {
    height: set.reduce((sum, text) => sum + text.height, 0),
    draw: ({ x, width: wide }, y) => {
      let at = y
      for (const text of set) {
        drawText(paper.pen, text, x, at, wide)
        at += text.height
      }
    },
  }
}

function placesOf(paper: Paper, columns: readonly Column[], gap: Points): Place[] {
  const { x, width } = paper.area
  const fixed = columns.reduce((sum, column) => sum + (column.width === 'rest' ? 0 : column.width), 0)
  const sharing = columns.filter((column) => column.width === 'rest').length
  const share = Math.max(0, width - fixed - gap * (columns.length - 1)) / Math.max(1, sharing)
  let at = x
  return columns.map((column) => {
    const wide = column.width === 'rest' ? share : column.width
    const place = { x: at, width: wide }
    at += wide + gap
    return place
  })
}
