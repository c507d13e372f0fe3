import { existsSync } from 'node:fs'
import { homedir } from 'node:os'
import type { Clock } from '../../core/clock.ts'
import { isPostgresAddress } from '../../core/database/open-books.ts'
import { demoWork } from '../../core/demo/demo-work.ts'
import { type Office, openOffice } from '../../core/office.ts'
import { addDays, type CalendarDate } from '../../core/units/calendar-date.ts'
import { booksAddress } from '../place/data-place.ts'
import { machineClock } from '../place/machine-clock.ts'
import { DAY_HELP, type DayOptions, readDayOptions } from './day-options.ts'
import { writeDayPapers } from './write-papers.ts'

// `npm run day`: the day's papers without a window, for a nightly job.

const machine = { platform: process.platform, home: homedir(), environment: process.env }
/** The day is the one asked for, the instant the machine's. */
const clockOn = (today: CalendarDate): Clock => ({ today: () => today, now: machineClock.now })
const log = (line: string) => console.error(line)

async function main(words: readonly string[]): Promise<number> {
  const read = readDayOptions(
    words,
    process.env.INIT_CWD ?? process.cwd(),
    machineClock.today(),
    booksAddress(machine, null),
  )
  if (read.kind === 'help') {
    console.log(DAY_HELP)
    return 0
  }
  if (read.kind === 'wrong') {
    console.error(read.sentence)
    return 2
  }
  const office = read.options.data === null ? await demo(read.options.on) : await books(read.options)
  if (!office) return 1
  try {
    const written = await writeDayPapers(office, read.options.on, read.options.out)
    console.log(`Wrote ${written.files.join(', ')} to ${read.options.out}.`)
    for (const { file, why } of written.leftOut) console.log(`${file} was left out: ${why}`)
    return 0
  } catch (error) {
    console.error(
      `The papers were not written, and what was in ${read.options.out} is as it was. ${error instanceof Error ? error.message : String(error)}`,
    )
    return 1
  } finally {
    await office.close()
  }
}

async function books({ data, on }: DayOptions): Promise<Office | null> {
  if (data === null) return null
  if (!isPostgresAddress(data) && !existsSync(data)) {
    console.error(`There are no books at ${data}. Name them after --data, or take --demo.`)
    return null
  }
  return openAt(data, on)
}

/** The demo office as it stood the evening before, in memory. */
async function demo(on: CalendarDate): Promise<Office | null> {
  const office = await openAt(':memory:', on)
  if (!office) return null
  const evening = addDays(on, -1)
  const made = await demoWork.run({ ...office.desk(), today: evening, progress: async () => true }, {})
  if (made.ok) return office
  console.error(made.problem.sentence)
  await office.close()
  return null
}

async function openAt(database: string, on: CalendarDate): Promise<Office | null> {
  // Nobody waits at a window meanwhile: one thread does it all, and every module is held once. Its heap is small (with-modern-node.mjs).
  const opened = await openOffice({ database, clock: clockOn(on), log, threads: 'same' })
  if (opened.ok) return opened.value
  console.error(`${opened.problem.sentence} ${opened.problem.nextStep}`)
  return null
}

process.exitCode = await main(process.argv.slice(2))
