import type { Office } from '../../core/office.ts'

/** Asks a procedure of the office through its door, without the page: what stood in the books before the page looked. Throws on a refusal. */
export function askDoor(office: Office): (path: string, input: unknown) => Promise<unknown> {
  return async (path, input) => {
    const request = new Request(`http://office/rpc/${path}`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ json: input }),
    })
    const response = await office.handle(request)
    const { json } = (await response.json()) as { json: unknown }
    if (!response.ok) throw new Error(`${path}: ${JSON.stringify(json)}`)
    return json
  }
}
