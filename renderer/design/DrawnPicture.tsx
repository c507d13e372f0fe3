import { type Drawing, type Mark, POINT_SIZE, type Spot } from '../../core/units/drawing.ts'
import { Picture } from './Picture.tsx'

interface DrawnPictureProps {
  /** What it shows: "Rejection of this membrane". */
  readonly title: string
  /** The same in words, for those who do not see it. */
  readonly words: string
  readonly drawing: Drawing
}

/** A drawing made by pure code, on screen. The papers draw the same marks in their own ink. */
export function DrawnPicture({ title, words, drawing }: DrawnPictureProps) {
  return (
    <Picture title={title} words={words} width={drawing.width} height={drawing.height}>
      {drawing.marks.map((mark, index) => (
        <MarkOf key={`${mark.kind} ${index.toString()}`} mark={mark} />
      ))}
    </Picture>
  )
}

function MarkOf({ mark }: { readonly mark: Mark }) {
  switch (mark.kind) {
    case 'line':
      return <path className={`drawn-${mark.look}`} d={mark.lines.map(lineData).join('')} />
    case 'tint':
      return <path className="picture-water-tint" d={`${lineData(mark.outline)}Z`} />
    case 'words':
      return (
        <text className={`drawn-words ${mark.look}`} x={mark.at.x} y={mark.at.y} textAnchor={mark.align}>
          {mark.text}
        </text>
      )
    case 'point':
      return <PointOf shape={mark.shape} at={mark.at} />
  }
}

function PointOf({ shape, at: { x, y } }: { readonly shape: 'dot' | 'ring' | 'square' | 'cross'; readonly at: Spot }) {
  const r = POINT_SIZE
  if (shape === 'dot' || shape === 'ring') return <circle className={`drawn-${shape}`} cx={x} cy={y} r={r} />
  if (shape === 'square')
    return <rect className="drawn-square" x={x - r + 0.5} y={y - r + 0.5} width={2 * r - 1} height={2 * r - 1} />
  return (
    <>
      <circle className="drawn-struck" cx={x} cy={y} r={r} />
      <path className="drawn-cross" d={`M${x - 5} ${y - 5}L${x + 5} ${y + 5}M${x - 5} ${y + 5}L${x + 5} ${y - 5}`} />
    </>
  )
}

function lineData(line: readonly Spot[]): string {
  return line.map(({ x, y }, index) => `${index === 0 ? 'M' : 'L'}${rounded(x)} ${rounded(y)}`).join('')
}

const rounded = (value: number): number => Math.round(value * 10) / 10
