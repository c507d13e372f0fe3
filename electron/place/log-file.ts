import { appendFileSync, existsSync, mkdirSync, renameSync, statSync } from 'node:fs'
import { join } from 'node:path'

const LARGEST_BYTES = 1_000_000

/** Writes lines with their instant to `penstock.log` in `folder`; the file before it is kept as `penstock.log.1`. */
export function openLog(folder: string, now: () => string): (line: string) => void {
  mkdirSync(folder, { recursive: true, mode: 0o700 })
  const file = join(folder, 'penstock.log')
  return (line) => {
    if (existsSync(file) && statSync(file).size > LARGEST_BYTES) renameSync(file, `${file}.1`)
    appendFileSync(file, `${now()} ${line}\n`, { mode: 0o600 })
  }
}
