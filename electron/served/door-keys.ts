import { createHash, randomBytes, timingSafeEqual } from 'node:crypto'

/** The keys of the served office: each opens the door once, and is exchanged for a session that lasts as long as the program runs. */
export interface DoorKeys {
  /** A new key; it stays good until it is used. */
  cut(): string
  /** Takes a key and gives a session for it; null when it is not a key, or was used before. */
  exchange(key: string): string | null
  /** True when `session` was given out by this office. */
  knows(session: string): boolean
}

/** 256 bits of chance, as words an address can carry. */
export const secret = (): string => randomBytes(32).toString('base64url')
const digest = (text: string): Buffer => createHash('sha256').update(text).digest()

/** True for the same text; how long it takes says nothing about how near a guess was. */
export function isSameSecret(one: string, other: string): boolean {
  return timingSafeEqual(digest(one), digest(other))
}

/** Looks at every entry, and compares digests of one length: how long it takes says nothing about how near a guess was. */
function find(digests: readonly Buffer[], text: string): number {
  const wanted = digest(text)
  return digests.reduce((found, one, at) => (timingSafeEqual(one, wanted) ? at : found), -1)
}

/** Remembers digests only: neither a key nor a session can be read out of memory again. */
export function doorKeys(): DoorKeys {
  const keys: Buffer[] = []
  const sessions: Buffer[] = []
  return {
    cut: () => {
      const key = secret()
      keys.push(digest(key))
      return key
    },
    exchange: (key) => {
      const at = find(keys, key)
      if (at < 0) return null
      keys.splice(at, 1)
      const session = secret()
      sessions.push(digest(session))
      return session
    },
    knows: (session) => find(sessions, session) >= 0,
  }
}
