import type { LetterPreview, PreviewPicture } from '../../core/letters/letters-contract.ts'
import './letters.css'

type Mark = PreviewPicture['marks'][number]

/** The first page of a letter, drawn from the very marks that the printed page is made of; its words are text, also for ears. */
export function LetterPicture({ preview }: { readonly preview: LetterPreview }) {
  const { picture, pages, missing } = preview
  return (
    <>
      <figure className="letter-page" aria-label="The first page of the letter">
        <svg role="presentation" viewBox={`0 0 ${picture.width} ${picture.height}`}>
          {picture.marks.map((mark, index) => (
            <MarkOnPage key={markKey(mark, index)} mark={mark} />
          ))}
        </svg>
      </figure>
      {pages > 1 && <p className="second small">It goes on: {pages} pages.</p>}
      {missing.length > 0 && (
        <p className="small">
          <b>Not in the typeface:</b> {missing.join(' ')}. A square is printed for each.
        </p>
      )}
    </>
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
