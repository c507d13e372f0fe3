/** Why a request is turned away before anyone looks at what it wants. */
export interface TurnedAway {
  readonly status: number
  readonly sentence: string
}

/**
 * Turns away what did not come from our own page at our own address.
 * - A foreign Host is a name that someone pointed at this machine (DNS rebinding).
 * - A foreign Origin, or a fetch from any other site or port, is another page that speaks through the user's browser.
 * - What changes something must say where it comes from. Programs that are no browser send no Sec-Fetch-Site, and have no cookie.
 */
export function turnAway(method: string, headers: Headers, host: string): TurnedAway | null {
  if (headers.get('host') !== host) return { status: 421, sentence: `This office answers at http://${host} only.` }
  const origin = headers.get('origin')
  if (origin !== null && origin !== `http://${host}`)
    return { status: 403, sentence: 'Another page may not ask this office.' }
  const site = headers.get('sec-fetch-site')
  if (site !== null && site !== 'same-origin' && site !== 'none')
    return { status: 403, sentence: 'Another page may not ask this office.' }
  const reads = method === 'GET' || method === 'HEAD'
  if (!reads && origin === null) return { status: 403, sentence: 'A change must say which page it comes from.' }
  // A page fetched ahead of time would use up a key that nobody has opened yet.
  if (headers.get('sec-purpose')?.includes('prefetch'))
    return { status: 403, sentence: 'This office is not fetched ahead of time.' }
  return null
}

/** The value of one cookie; null when it did not come. */
export function cookieValue(header: string | null, name: string): string | null {
  for (const pair of header?.split(';') ?? []) {
    const at = pair.indexOf('=')
    if (at > 0 && pair.slice(0, at).trim() === name) return pair.slice(at + 1).trim()
  }
  return null
}
