import { drawWanted, wantedWords } from '../../core/orders/demand-picture.ts'
import type { Wanted } from '../../core/orders/proposal-shapes.ts'
import { DrawnPicture } from '../design/DrawnPicture.tsx'
import { useWidth } from '../design/use-width.ts'

/** How many may be wanted, with the level in it; the same in words below. */
export function DemandPicture({ wanted }: { readonly wanted: Wanted }) {
  const [place, width] = useWidth(556)
  const drawing = drawWanted(wanted, width)
  return (
    <>
      <div ref={place}>
        {drawing && <DrawnPicture title="How many may be wanted" words={wantedWords(wanted)} drawing={drawing} />}
      </div>
      <p>{wantedWords(wanted)}</p>
    </>
  )
}
