import { readdirSync, rmSync, statSync } from 'node:fs'
import { mkdtemp } from 'node:fs/promises'
import { join } from 'node:path'

const NAME = /^penstock-papers-(\d+)-\w+$/
/** So long a page may lie open in a reader before its file goes. */
const A_DAY_MS = 86_400_000

/** Where pages lie while the machine's reader shows them: a folder of its own each, for this user's eyes only. */
export interface PaperFolder {
  /** A new folder for one page; those of pages older than a day go. */
  next(): Promise<string>
  /** Takes all of them away. */
  remove(): void
}

/**
 * Opens the folder in the machine's place for passing files, and takes away what a killed run left there. `isRunning` says whether a
 * process is still there; `now` is in milliseconds.
 */
export function openPaperFolder(
  passing: string,
  pid: number,
  isRunning: (pid: number) => boolean,
  now: () => number,
): PaperFolder {
  const ours = `penstock-papers-${pid}-`
  const named = (wanted: (owner: number) => boolean): string[] =>
    readdirSync(passing)
      .filter((name) => NAME.test(name) && wanted(Number(NAME.exec(name)?.[1])))
      .map((name) => join(passing, name))
  for (const folder of named((owner) => owner === pid || !isRunning(owner))) removeQuietly(folder)
  return {
    next: async () => {
      for (const folder of named((owner) => owner === pid)) if (now() - bornAt(folder) > A_DAY_MS) removeQuietly(folder)
      return mkdtemp(join(passing, ours))
    },
    remove: () => {
      for (const folder of named((owner) => owner === pid)) removeQuietly(folder)
    },
  }
}

function bornAt(folder: string): number {
  return statSync(folder, { throwIfNoEntry: false })?.mtimeMs ?? 0
}

/** A reader may hold the file on some machines, and another user's folder is none of ours: it stays, and nothing fails for it. */
function removeQuietly(folder: string): void {
  try {
    rmSync(folder, { recursive: true, force: true })
  } catch {
    // Tried again at the next page and at the next start.
  }
}
