/** What every answer carries, whoever asked: no sniffing, no referrer, no other origin, no device. */
const ALWAYS: Readonly<Record<string, string>> = {
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'permissions-policy': 'camera=(), microphone=(), geolocation=(), payment=(), usb=(), serial=(), hid=()',
}

/**
 * The page's content policy: its own files and nothing else. `nonce` admits the one style that the component library adds itself.
 * Frames show the office's own papers.
 */
export function pagePolicy(nonce: string): string {
  return [
    "default-src 'none'",
    "script-src 'self'",
    `style-src 'self' 'nonce-${nonce}'`,
    "font-src 'self'",
    "img-src 'self' data: blob:",
    "connect-src 'self'",
    "frame-src 'self'",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ].join('; ')
}

/** For everything that is not the page: it runs nothing, and only the page itself may frame it (a paper being shown). */
const THING_POLICY =
  "default-src 'none'; style-src 'unsafe-inline'; object-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'self'"

/** The same answer with the headers of the house; `policy` is the page's, when it is one. */
export function withHouseHeaders(response: Response, policy: string = THING_POLICY): Response {
  const headers = new Headers(response.headers)
  for (const [name, value] of Object.entries(ALWAYS)) headers.set(name, value)
  headers.set('content-security-policy', policy)
  if (!headers.has('cache-control')) headers.set('cache-control', 'no-store')
  return new Response(response.body, { status: response.status, statusText: response.statusText, headers })
}
