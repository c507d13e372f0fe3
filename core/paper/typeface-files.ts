import { existsSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'

/** Both weights of the one typeface, read once; the folder is `assets/fonts` of the program. */
export interface TypefaceFiles {
  readonly regular: Uint8Array
  readonly semibold: Uint8Array
}

let filesRead: TypefaceFiles | null = null

/** The embedded typeface, Source Sans 3 in two weights (SIL Open Font License 1.1). Looks upwards from this file for the assets. */
export function typefaceFiles(): TypefaceFiles {
  if (filesRead) return filesRead
  let folder = import.meta.dirname
  while (!existsSync(join(folder, 'assets/fonts/source-sans-3-regular.ttf'))) {
    if (dirname(folder) === folder) throw new Error('The folder assets/fonts is missing from the program.')
    folder = dirname(folder)
  }
  const read = (name: string): Uint8Array => readFileSync(join(folder, 'assets/fonts', name))
  filesRead = { regular: read('source-sans-3-regular.ttf'), semibold: read('source-sans-3-semibold.ttf') }
  return filesRead
}
