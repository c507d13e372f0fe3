import { type Dirent, existsSync, readdirSync, readFileSync } from 'node:fs'
import { join, relative, sep } from 'node:path'

/** One file of the house: its path from the root with forward slashes, and its text. */
export interface SourceFile {
  readonly path: string
  readonly text: string
}

export interface SourceTree {
  readonly files: readonly SourceFile[]
  readonly lock: string
  readonly ruleBook: string
}

/** The folders whose files the rules speak about. */
const HOUSES = ['core', 'electron', 'renderer', 'migrations', 'tests']
const READ = /\.(ts|tsx|mts|cts|mjs|cjs|css)$/

function filesBelow(root: string, folder: string): SourceFile[] {
  const place = join(root, folder)
  if (!existsSync(place)) return []
  return readdirSync(place, { recursive: true, withFileTypes: true })
    .filter((entry: Dirent) => entry.isFile() && READ.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name))
    .map((file) => ({ path: relative(root, file).split(sep).join('/'), text: readFileSync(file, 'utf8') }))
    .sort((a, b) => (a.path < b.path ? -1 : 1))
}

function textOf(file: string): string {
  return existsSync(file) ? readFileSync(file, 'utf8') : ''
}

/** Reads the tree under `root`. Nothing is left out: a file that must not be looked at does not belong in these folders. */
export function readSourceTree(root: string): SourceTree {
  return {
    files: HOUSES.flatMap((house) => filesBelow(root, house)),
    lock: textOf(join(root, 'package-lock.json')),
    ruleBook: textOf(join(root, 'core', 'RULES.md')),
  }
}
