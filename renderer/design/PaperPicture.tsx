import type { PreviewPicture } from '../../core/units/page-picture-shape.ts'
import './paper-picture.css'

type Mark = PreviewPicture['marks'][number]

/** A page before it is printed, drawn from the very marks that the printed page is made of; its words are text, also for ears. */
export function PaperPicture({ picture, label }: { readonly picture: PreviewPicture; readonly label: string }) {
  return (
    <figure className="paper-picture" aria-label={label}>
      <svg role="presentation" viewBox={`0 0 ${picture.width} ${picture.height}`}>
        {picture.marks.map((mark, index) => (
          <MarkOnPage key={markKey(mark, index)} mark={mark} />
        ))}
      </svg>
    </figure>
  )
}

const markKey = (mark: Mark, index: number): string => `${index} ${mark.kind}`

function MarkOnPage({ mark }: { readonly mark: Mark }) {
  if (mark.kind === 'text')
    return (
      <text
        x={mark.x}
        y={mark.y}
        fontSize={mark.size}
        fontWeight={mark.weight === 'semibold' ? 600 : 400}
        className={`page-${mark.ink} page-filled`}
      >
        {mark.text}
      </text>
    )
  if (mark.fill) return <path d={mark.path} className={`page-${mark.fill} page-filled`} />
  return (
    <path
      d={mark.path}
      className={`page-${mark.line ?? 'ink'} page-lined`}
      strokeWidth={mark.lineWidth}
      strokeDasharray={mark.dash?.join(' ')}
    />
  )
}
