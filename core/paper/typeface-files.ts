import { readAsset } from './asset-files.ts'

/** Both weights of the one typeface, read once; the folder is `assets/fonts` of the program. */
export interface TypefaceFiles {
  readonly regular: Uint8Array
  readonly semibold: Uint8Array
}

let filesRead: TypefaceFiles | null = null

/** The embedded typeface, Source Sans 3 in two weights (SIL Open Font License 1.1). */
export function typefaceFiles(): TypefaceFiles {
  filesRead ??= {
    regular: readAsset('fonts/source-sans-3-regular.ttf'),
    semibold: readAsset('fonts/source-sans-3-semibold.ttf'),
  }
  return filesRead
}
