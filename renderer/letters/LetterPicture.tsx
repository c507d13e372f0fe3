import type { LetterPreview } from '../../core/letters/letters-contract.ts'
import { PaperPicture } from '../design/PaperPicture.tsx'

/** The first page of a letter, as it will be printed. */
export function LetterPicture({ preview }: { readonly preview: LetterPreview }) {
  const { picture, pages, missing } = preview
  return (
    <>
      <PaperPicture picture={picture} label="The first page of the letter" />
      {pages > 1 && <p className="second small">It goes on: {pages} pages.</p>}
      {missing.length > 0 && (
        <p className="small">
          <b>Not in the typeface:</b> {missing.join(' ')}. A square is printed for each.
        </p>
      )}
    </>
  )
}
