import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'

/** What each page of a PDF says, its pieces parted by single spaces: read by pdf.js, which had no part in writing it. */
export async function wordsOnPages(file: Uint8Array): Promise<string[]> {
  const document = await getDocument({ data: file.slice(), verbosity: 0 }).promise
  const pages: string[] = []
  for (let number = 1; number <= document.numPages; number += 1) {
    const { items } = await (await document.getPage(number)).getTextContent()
    pages.push(
      items
        .map((item) => ('str' in item ? item.str : ''))
        .join(' ')
        .replace(/\s+/g, ' '),
    )
  }
  return pages
}
