import { readFileSync, rmSync, writeFileSync } from 'node:fs'
import { z } from 'zod/mini'

/** What lies beside the books while they are served, for this user's eyes only: where, and the word that asks for one more address. */
const noteSchema = z.object({
  origin: z.string().check(z.regex(/^http:\/\/127\.0\.0\.1:\d+$/)),
  word: z.string().check(z.minLength(20)),
})
type Note = z.infer<typeof noteSchema>

/** The header that carries the word. */
export const WORD_HEADER = 'x-penstock-word'
const PATIENCE_MS = 15_000

export function noteBeside(books: string): string {
  return `${books}.served`
}

/** Leaves the note for a second start; the answer takes it away again. */
export function leaveNote(books: string, { origin, word }: Note): () => void {
  const file = noteBeside(books)
  rmSync(file, { force: true })
  writeFileSync(file, JSON.stringify({ origin, word }), { mode: 0o600, flag: 'wx' })
  return () => rmSync(file, { force: true })
}

/**
 * Asks the office that serves these books already for a new address; null when none answers. A note that a killed program left behind
 * is taken away.
 */
export async function askRunningOffice(books: string): Promise<string | null> {
  const note = readNote(noteBeside(books))
  if (note === null) return null
  const address = await knock(note)
  if (address === null) rmSync(noteBeside(books), { force: true })
  return address
}

function readNote(file: string): Note | null {
  try {
    return noteSchema.parse(JSON.parse(readFileSync(file, 'utf8')))
  } catch {
    return null
  }
}

async function knock({ origin, word }: Note): Promise<string | null> {
  try {
    const answer = await fetch(`${origin}/knock`, {
      method: 'POST',
      headers: { origin, [WORD_HEADER]: word },
      redirect: 'error',
      signal: AbortSignal.timeout(PATIENCE_MS),
    })
    const address = (await answer.text()).trim()
    return answer.ok && address.startsWith(`${origin}/enter?key=`) ? address : null
  } catch {
    return null
  }
}
