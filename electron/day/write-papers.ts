import { createWriteStream } from 'node:fs'
import { mkdir, mkdtemp, rename, rm, writeFile } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import type { Office } from '../../core/office.ts'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import { daySummary } from './day-summary.ts'

export interface PaperWanted {
  readonly file: string
  readonly address: string
}

/** The day's papers, by the same addresses that the screens open. */
export function papersOf(on: CalendarDate): PaperWanted[] {
  return [
    { file: 'letters.pdf', address: '/papers/letters-owed/all.pdf' },
    { file: 'pick-list.pdf', address: `/papers/pull/${on}.pdf` },
    { file: 'visits.pdf', address: `/papers/visits/${on}.pdf` },
    { file: 'invoices.pdf', address: `/papers/invoices-of/${on}.pdf?drafts=ready` },
  ]
}

export interface WrittenDay {
  readonly files: readonly string[]
  /** Papers left out, with the reason in words. */
  readonly leftOut: readonly { readonly file: string; readonly why: string }[]
}

/**
 * Writes a day's papers and day.json into a folder: all are made beside it first and moved in together, so that a failure leaves
 * what was there. Throws when a paper breaks or the folder cannot be written.
 */
export async function writeDayPapers(
  office: Pick<Office, 'handle'>,
  on: CalendarDate,
  out: string,
): Promise<WrittenDay> {
  await mkdir(out, { recursive: true })
  const beside = await mkdtemp(join(dirname(out), '.penstock-day-'))
  try {
    const files: string[] = []
    const leftOut: { file: string; why: string }[] = []
    for (const { file, address } of papersOf(on)) {
      const response = await office.handle(new Request(`http://office${address}`))
      if (response.status === 422) {
        const problem = (await response.json()) as { sentence: string }
        leftOut.push({ file, why: problem.sentence })
      } else if (response.status !== 200 || !response.body) {
        throw new Error(`${file} could not be made: ${await response.text()}`)
      } else {
        await pipeline(Readable.fromWeb(response.body), createWriteStream(join(beside, file)))
        files.push(file)
      }
    }
    const summary = { ...(await daySummary(office, on)), papers: files, leftOut }
    await writeFile(join(beside, 'day.json'), `${JSON.stringify(summary, null, 2)}\n`)
    files.push('day.json')
    for (const { file } of leftOut) await rm(join(out, file), { force: true })
    for (const file of files) await rename(join(beside, file), join(out, file))
    return { files, leftOut }
  } finally {
    await rm(beside, { recursive: true, force: true })
  }
}
