import { z } from 'zod'

const inkSchema = z.enum(['ink', 'second', 'rule', 'white', 'black'])

/** What stands on a page, as the papers draw it, on its way to a preview on screen. Points from the sheet's top left corner. */
export const pagePictureSchema = z.object({
  width: z.number(),
  height: z.number(),
  marks: z.array(
    z.discriminatedUnion('kind', [
      z.object({
        kind: z.literal('text'),
        x: z.number(),
        y: z.number(),
        size: z.number(),
        weight: z.enum(['regular', 'semibold']),
        ink: inkSchema,
        text: z.string(),
      }),
      z.object({
        kind: z.literal('outline'),
        path: z.string(),
        line: inkSchema.nullable(),
        fill: inkSchema.nullable(),
        lineWidth: z.number(),
        dash: z.tuple([z.number(), z.number()]).nullable(),
      }),
    ]),
  ),
})
export type PreviewPicture = z.infer<typeof pagePictureSchema>
type PreviewMark = PreviewPicture['marks'][number]

/** A page's picture as it is drawn: the same, with lists that nobody writes to. */
interface DrawnPage {
  readonly width: number
  readonly height: number
  readonly marks: readonly (
    | Extract<PreviewMark, { kind: 'text' }>
    | (Omit<Extract<PreviewMark, { kind: 'outline' }>, 'dash'> & { readonly dash: readonly [number, number] | null })
  )[]
}

export function previewOf({ width, height, marks }: DrawnPage): PreviewPicture {
  const plain = marks.map(
    (mark): PreviewMark =>
      mark.kind === 'text' ? mark : { ...mark, dash: mark.dash ? [mark.dash[0], mark.dash[1]] : null },
  )
  return { width, height, marks: plain }
}
