import type { PagePicture } from './page-picture.ts'
import { Paper, type PaperFacts } from './paper.ts'
import { PdfFile } from './pdf-document.ts'
import { Pen } from './pen.ts'
import { Typeface } from './typeface.ts'
import { typefaceFiles } from './typeface-files.ts'

/** Where a paper's bytes go: a file, a response, a list. A promise holds the drawing back until it is kept. */
export interface PaperSink {
  write(bytes: Uint8Array): void | Promise<void>
}

export interface PaperOptions extends PaperFacts {
  /** Keep a picture of the first so many pages, for a preview on screen. */
  readonly pictures?: number
}

export interface PaperMade {
  readonly pages: number
  readonly bytes: number
  /** Characters that the typeface lacks: a square stands for each. Empty when all is well. */
  readonly missing: readonly string[]
  readonly pictures: readonly PagePicture[]
}

/** What the drawing does between two sections: lets the bytes so far run out, so that memory stays flat. */
export type LetOut = () => Promise<void>

/** Bytes are handed on in blocks of about this size: a file is waited for once a page, not for every piece of it; larger ones only cost memory. */
const BLOCK = 8 * 1024

/**
 * Draws a paper and streams it: `draw` writes sections on the paper and awaits `letOut()` after each. However many pages, only
 * the open one is held. The same options and drawing give the same bytes.
 */
export async function streamPaper(
  options: PaperOptions,
  draw: (paper: Paper, letOut: LetOut) => void | Promise<void>,
  sink: PaperSink,
): Promise<PaperMade> {
  const file = new PdfFile(
    {
      title: options.title,
      lang: options.locale,
      author: options.officeName,
      madeAt: options.madeAt,
      size: options.pageSize,
    },
    typefaceFiles(),
  )
  const typeface = new Typeface(file.fonts)
  const paper = new Paper(file, new Pen(file, typeface, options.pageSize), typeface, options, options.pictures ?? 0)
  let bytes = 0
  let waiting: Uint8Array[] = []
  let waitingBytes = 0
  const handOn = async (atLeast: number): Promise<void> => {
    for (const piece of file.take()) {
      waiting.push(piece)
      waitingBytes += piece.length
    }
    if (waitingBytes < atLeast || waitingBytes === 0) return
    const block = Buffer.concat(waiting)
    waiting = []
    waitingBytes = 0
    bytes += block.length
    await sink.write(block)
  }
  await draw(paper, () => handOn(BLOCK))
  file.end()
  await handOn(0)
  return { pages: paper.pages, bytes, missing: typeface.missing, pictures: paper.pictures }
}

/** A whole paper in memory: for a preview, a test, a paper of a page or two. */
export async function paperBytes(
  options: PaperOptions,
  draw: (paper: Paper, letOut: LetOut) => void | Promise<void>,
): Promise<PaperMade & { readonly file: Uint8Array }> {
  const chunks: Uint8Array[] = []
  const made = await streamPaper(options, draw, {
    write: (chunk) => {
      chunks.push(chunk)
    },
  })
  return { ...made, file: Buffer.concat(chunks) }
}
