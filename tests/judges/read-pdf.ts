import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'

/** A run of letters on a page: points from the sheet's top left corner; `base` is where it stands, `top` the height of its capitals. */
export interface SeenText {
  readonly text: string
  readonly left: number
  readonly right: number
  readonly base: number
  readonly top: number
}

export interface SeenPage {
  readonly width: number
  readonly height: number
  readonly texts: readonly SeenText[]
}

export interface SeenPaper {
  readonly pages: readonly SeenPage[]
  readonly title: string
}

/** Capitals of the typeface are 660/1000 of its size high (its own OS/2 table). */
const CAPITAL = 0.66

/** Reads a PDF as somebody else's program sees it (pdf.js). */
export async function readPdf(file: Uint8Array): Promise<SeenPaper> {
  const task = getDocument({ data: new Uint8Array(file), verbosity: 0 })
  const pdf = await task.promise
  const pages: SeenPage[] = []
  for (let number = 1; number <= pdf.numPages; number += 1) {
    const page = await pdf.getPage(number)
    const { width, height } = page.getViewport({ scale: 1 })
    const { items } = await page.getTextContent()
    const texts = items.flatMap((item) => {
      if (!('str' in item) || item.str.trim() === '') return []
      const [, , , size = 0, left = 0, up = 0] = item.transform as number[]
      const base = height - up
      return [{ text: item.str, left, right: left + item.width, base, top: base - Math.abs(size) * CAPITAL }]
    })
    pages.push({ width, height, texts })
  }
  const { info } = await pdf.getMetadata()
  await task.destroy()
  return { pages, title: 'Title' in info ? String(info.Title) : '' }
}

export const wordsOn = (page: SeenPage | undefined): string => page?.texts.map((text) => text.text).join(' ') ?? ''
