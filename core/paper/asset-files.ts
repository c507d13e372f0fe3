import { existsSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'

let folderFound: string | null = null

/** A file of the program's folder `assets`, such as `fonts/source-sans-3-regular.ttf`. Throws when it is missing. */
export function readAsset(path: string): Uint8Array {
  folderFound ??= assetsFolder(path)
  return readFileSync(join(folderFound, path))
}

/** Looks upwards from this file, so that it is found from source, from what is built, and in the packed program. */
function assetsFolder(path: string): string {
  let folder = import.meta.dirname
  while (!existsSync(join(folder, 'assets', path))) {
    if (dirname(folder) === folder) throw new Error(`The file assets/${path} is missing from the program.`)
    folder = dirname(folder)
  }
  return join(folder, 'assets')
}
