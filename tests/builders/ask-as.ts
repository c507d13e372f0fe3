import type { AnOffice } from './an-office.ts'

/** Asks as somebody who gave their name at their window; a refusal comes back as its problem. */
export function askAs(office: AnOffice, who: string): AnOffice['ask'] {
  return async (path, input) => {
    const request = new Request(`http://office/rpc/${path}`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', 'penstock-who': encodeURIComponent(who) },
      body: JSON.stringify({ json: input }),
    })
    const response = await office.handle(request)
    const body = (await response.json()) as { json: unknown }
    return { status: response.status, json: body.json }
  }
}
