import { existsSync, mkdirSync, readdirSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { isRunning } from '../place/is-running.ts'

const NAME = /^window-chromium-(\d+)$/

export interface ChromiumProfile {
  readonly folder: string
  /** Chromium may still be writing when its window is gone: what cannot be removed now is removed at the next start. */
  remove(): void
}

/** A fresh profile for this run, in the user's own folder; those of runs that are no more are taken away. */
export function ownProfile(dataFolder: string, pid: number): ChromiumProfile {
  const folder = join(dataFolder, `window-chromium-${pid}`)
  removeOrphans(dataFolder)
  rmSync(folder, { recursive: true, force: true })
  mkdirSync(folder, { recursive: true, mode: 0o700 })
  return { folder, remove: () => removeQuietly(folder) }
}

function removeOrphans(dataFolder: string): void {
  if (!existsSync(dataFolder)) return
  for (const name of readdirSync(dataFolder)) {
    const owner = Number(NAME.exec(name)?.[1])
    if (name === 'window-chromium' || (owner > 0 && !isRunning(owner))) removeQuietly(join(dataFolder, name))
  }
}

function removeQuietly(folder: string): void {
  try {
    rmSync(folder, { recursive: true, force: true, maxRetries: 3 })
  } catch {
    // The next start tries again.
  }
}
