import { openOffice } from '../../core/office.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'

// Puts one open pull after the other on its van, in a process that a test kills: `node confirm-apart.ts <file of the books>`.
const [, , database = ''] = process.argv
const today = calendarDate('2026-12-01')
const clock = { today: () => today, now: () => `${today}T12:00:00.000Z` }
const opened = await openOffice({ database, clock, log: (line) => process.stderr.write(`${line}\n`), threads: 'same' })
if (!opened.ok) throw new Error(opened.problem.sentence)
const office = opened.value
const open = office.desk().read.selectFrom('pulls').select('id').where('state', '=', 'open').orderBy('id')
for (const { id } of await open.execute()) {
  process.stdout.write(`putting ${id}\n`)
  const request = new Request('http://office/rpc/pull/confirm', {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ json: { pullId: id } }),
  })
  const response = await office.handle(request)
  process.stdout.write(`${response.status === 200 ? 'put' : 'not put'} ${id}\n`)
}
