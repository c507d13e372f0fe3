import { z } from 'zod'
import { procedure } from '../door.ts'
import { pagePictureSchema } from '../units/page-picture-shape.ts'
import { LABEL_KINDS, MOST_OF_ONE } from './label-order.ts'

const kind = z.enum(LABEL_KINDS)

export const labelSourceSchema = z.object({
  kind,
  id: z.int().positive(),
  /** "P-1005", "A-02-1". */
  title: z.string(),
  /** "lot 2608-114"; empty for parts and bins. */
  lot: z.string(),
  /** The part's name, or the aisle. */
  line: z.string(),
  /** Pieces of the lot or part in bins and vans; of a bin what lies in it. */
  pieces: z.int().min(0),
})
export type LabelSource = z.infer<typeof labelSourceSchema>

const orderSchema = z.object({
  wanted: z.array(z.object({ kind, id: z.int().positive(), count: z.int().min(1).max(MOST_OF_ONE) })).max(300),
  beginWith: z.int().min(1).max(30),
  partBars: z.enum(['own', 'gtin']),
})

export const labelPreviewSchema = z.object({
  labels: z.int().min(0),
  sheets: z.int().min(0),
  /** Labels on a whole sheet, and how many of them lie beside each other. */
  onSheet: z.int(),
  across: z.int(),
  /** The label after the last one printed, from 1: where the next print begins. */
  nextBegin: z.int(),
  /** The first sheet; null when nothing is to be printed. */
  picture: pagePictureSchema.nullable(),
  /** What is not as one would expect, a sentence each. */
  notes: z.array(z.string()),
  shift: z.object({ rightMm: z.number(), downMm: z.number() }),
})
export type LabelPreview = z.infer<typeof labelPreviewSchema>

/** Labels to be printed on sheets: what there is to choose from, and how the first sheet will look. */
export const labelsContract = {
  find: procedure
    .input(z.object({ kind, words: z.string().max(80) }))
    .output(z.object({ sources: z.array(labelSourceSchema), more: z.boolean() })),
  /** Of one part: itself and its lots that lie somewhere. */
  ofPart: procedure.input(z.object({ partId: z.int().positive() })).output(z.array(labelSourceSchema)),
  /** Of one delivery: its lots, with the good pieces that came of each; and which delivery it is, in words. */
  ofDelivery: procedure
    .input(z.object({ receiptId: z.int().positive() }))
    .output(z.object({ words: z.string(), sources: z.array(labelSourceSchema) })),
  preview: procedure.input(orderSchema).output(labelPreviewSchema),
}
