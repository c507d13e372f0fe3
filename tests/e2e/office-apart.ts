import { fileURLToPath } from 'node:url'
import { openOffice } from '../../core/office.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { openPageFiles } from '../../electron/page/page-files.ts'
import { serveOffice } from '../../electron/served/serve-office.ts'

// An office in a process of its own, to be killed: `node office-apart.ts <file of the books> <port>`. Says its addresses in one line.
const [, , database = '', port = '0'] = process.argv
const today = calendarDate('2026-12-01')
const clock = { today: () => today, now: () => new Date().toISOString().replace(/^.{10}/, today) }
const opened = await openOffice({ database, clock, log: (line) => process.stderr.write(`${line}\n`), threads: 'same' })
if (!opened.ok) throw new Error(opened.problem.sentence)
const files = openPageFiles(fileURLToPath(new URL('../../dist/renderer', import.meta.url)))
const served = await serveOffice({ office: opened.value, files, port: Number(port), log: () => {} })
const addresses = [served.newAddress(), served.newAddress()]
process.stdout.write(`${JSON.stringify({ origin: served.origin, addresses })}\n`)
