import type { ListLook } from '../../core/imports/imports-contract.ts'
import type { JudgedEntry } from '../../core/imports/judged-entry.ts'
import type { Office } from '../../core/office.ts'
import type { Result } from '../../core/result.ts'
import { WORKS } from '../../core/works.ts'

type Handling = Pick<Office, 'handle' | 'desk'>

/** One piece of a file through the door, as the screen sends it. */
export async function sendPiece(
  office: Handling,
  fileId: number,
  position: number,
  bytes: Blob,
): Promise<{ status: number; json: unknown }> {
  const form = new FormData()
  form.append('data', JSON.stringify({ json: { fileId, position, bytes: null }, maps: [['bytes']], meta: [] }))
  form.append('0', bytes)
  return answered(await office.handle(new Request('http://office/rpc/imports/piece', { method: 'POST', body: form })))
}

/** Asks a procedure of the import through the door. */
export async function askImports(
  office: Handling,
  name: 'begin' | 'judged' | 'readAs' | 'drop',
  input: unknown,
): Promise<{ status: number; json: unknown }> {
  const request = new Request(`http://office/rpc/imports/${name}`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ json: input }),
  })
  return answered(await office.handle(request))
}

async function answered(response: Response): Promise<{ status: number; json: unknown }> {
  const { json } = (await response.json()) as { json: unknown }
  return { status: response.status, json }
}

/** Sends a whole file in pieces, and returns the key under which it is held. */
export async function sendList(office: Handling, list: string | Uint8Array, name = 'dealer.csv'): Promise<number> {
  const file = new Blob([typeof list === 'string' ? list : new Uint8Array(list)])
  const begun = await askImports(office, 'begin', { name, size: file.size })
  if (begun.status !== 200) throw new Error(JSON.stringify(begun.json))
  const { fileId, pieceBytes } = begun.json as { fileId: number; pieceBytes: number }
  for (let position = 0; position * pieceBytes < file.size; position += 1) {
    const from = position * pieceBytes
    const sent = await sendPiece(office, fileId, position, file.slice(from, from + pieceBytes))
    if (sent.status !== 200) throw new Error(JSON.stringify(sent.json))
  }
  return fileId
}

/** Runs a long work on the office's own desk; `stopAt` presses Stop at that step. */
export async function runWork<Output>(
  office: Handling,
  name: string,
  input: unknown,
  stopAt = Number.POSITIVE_INFINITY,
): Promise<Result<Output>> {
  let steps = 0
  const named = WORKS[name]
  if (!named) throw new Error(`No work is called ${name}`)
  return (await named.run({ ...office.desk(), progress: async () => ++steps < stopAt }, input)) as Result<Output>
}

/** A list that was brought and looked at. */
export async function bringList(office: Handling, list: string | Uint8Array, name?: string): Promise<ListLook> {
  const fileId = await sendList(office, list, name)
  const look = await runWork<ListLook>(office, 'import-look', { fileId })
  if (!look.ok) throw new Error(look.problem.sentence)
  return look.value
}

/** Every entry that was judged, gathered page by page as the screen does. */
export async function judgedEntries(office: Handling, fileId: number, pages: number): Promise<JudgedEntry[]> {
  const entries: JudgedEntry[] = []
  for (let page = 0; page < pages; page += 1) {
    const { json } = await askImports(office, 'judged', { fileId, page })
    entries.push(...(json as { entries: JudgedEntry[] }).entries)
  }
  return entries
}
