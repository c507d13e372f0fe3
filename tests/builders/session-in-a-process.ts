// One session of a warehouse in a process of its own, on books that other processes write at the same time.
// node session-in-a-process.ts FILE SEED ACTS, the warehouse as JSON on its input: prints what it was told.
import { openOffice } from '../../core/office.ts'
import { aSession, type CrowdedWarehouse } from './a-warehouse-session.ts'
import { clockAt } from './clock-at.ts'

const [, , file = '', seed = '1', acts = '10'] = process.argv
const chunks: Buffer[] = []
for await (const chunk of process.stdin) chunks.push(chunk as Buffer)
const house = JSON.parse(Buffer.concat(chunks).toString('utf8')) as CrowdedWarehouse
const opened = await openOffice({ database: file, clock: clockAt('2026-12-01'), log: console.error, threads: 'same' })
if (!opened.ok) throw new Error(opened.problem.sentence)
const ask = async (path: string, input: unknown) => {
  const request = new Request(`http://office/rpc/${path}`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ json: input }),
  })
  const response = await opened.value.handle(request)
  return { status: response.status, json: ((await response.json()) as { json: unknown }).json }
}
const told = await aSession(ask, house, Number(seed), Number(acts))
await opened.value.close()
console.log(JSON.stringify(told))
