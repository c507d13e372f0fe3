import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { build } from 'vite'

/** What can be built: the window's page, or the desktop shell around it. */
export type Built = 'window' | 'shell'

const CONFIGS: Readonly<Record<Built, readonly string[]>> = {
  window: ['vite.config.ts'],
  shell: ['vite.electron.config.ts', 'vite.preload.config.ts'],
}
const RESTS_ON: Readonly<Record<Built, readonly string[]>> = {
  window: ['renderer', 'core', 'electron/page', 'electron/preload', 'package-lock.json', 'vite.config.ts'],
  shell: ['electron', 'core', 'migrations', 'package-lock.json', 'vite.electron.config.ts', 'vite.preload.config.ts'],
}
const MADE: Readonly<Record<Built, string>> = { window: 'dist/renderer/index.html', shell: 'dist/electron/main.js' }

/** Builds what changed since it was built last; says whether it had to. */
export async function buildWhenStale(root: string, what: Built): Promise<boolean> {
  const mark = join(root, 'dist', `.built-${what}`)
  const state = stateOf(root, RESTS_ON[what])
  if (existsSync(join(root, MADE[what])) && existsSync(mark) && readFileSync(mark, 'utf8') === state) return false
  for (const config of CONFIGS[what]) await build({ configFile: join(root, config), logLevel: 'error' })
  mkdirSync(join(root, 'dist'), { recursive: true })
  writeFileSync(mark, state)
  return true
}

/** Which files there are, how large, and when they were written: changes when one is changed, added or taken away. */
function stateOf(root: string, places: readonly string[]): string {
  const hash = createHash('sha256')
  for (const place of places) for (const file of filesAt(join(root, place))) hash.update(`${file} ${entry(file)}\n`)
  return hash.digest('hex')
}

function entry(file: string): string {
  const { size, mtimeMs } = statSync(file)
  return `${size} ${mtimeMs}`
}

function filesAt(place: string): string[] {
  if (!existsSync(place)) return []
  if (statSync(place).isFile()) return [place]
  return readdirSync(place, { recursive: true, withFileTypes: true })
    .filter((one) => one.isFile())
    .map((one) => join(one.parentPath, one.name))
    .sort()
}
