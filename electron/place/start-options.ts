import { resolve } from 'node:path'

/** How the program was asked to start. */
export interface StartOptions {
  /** A file for the books; null for the usual place. */
  readonly data: string | null
  /** The port of the served office; 0 lets the machine choose. */
  readonly port: number
  /** Open a window, where one can be had. */
  readonly window: boolean
  readonly help: boolean
}

export const START_HELP = `npm start opens Penstock. Behind \`--\` it takes:
  --data FILE    keep the books in this file, instead of your own data folder
  --port N       serve at this port of this machine (1024 to 65535), instead of any free one
  --no-window    open no window; print the address to open instead
  --help         print this
With DATABASE_URL=postgres://... in the environment the books are on that database server.`

export type ParsedOptions =
  | { readonly ok: true; readonly options: StartOptions }
  | { readonly ok: false; readonly sentence: string }

const DEFAULTS: StartOptions = { data: null, port: 0, window: true, help: false }

/** Reads the words behind `npm start --`. A relative file is taken from `folder`. */
export function parseStartOptions(words: readonly string[], folder: string): ParsedOptions {
  let options = DEFAULTS
  const rest = words.flatMap((word) => (/^--\w+=/.test(word) ? splitAtEquals(word) : [word]))
  for (let word = rest.shift(); word !== undefined; word = rest.shift()) {
    if (word === '--help' || word === '-h') options = { ...options, help: true }
    else if (word === '--no-window') options = { ...options, window: false }
    else if (word === '--data') {
      const file = rest.shift()
      if (!file || file.startsWith('--')) return { ok: false, sentence: 'Name a file after --data.' }
      options = { ...options, data: resolve(folder, file) }
    } else if (word === '--port') {
      const port = Number(rest.shift())
      if (!Number.isInteger(port) || port < 1024 || port > 65535)
        return { ok: false, sentence: 'Name a port from 1024 to 65535 after --port.' }
      options = { ...options, port }
    } else return { ok: false, sentence: `"${word}" means nothing here. \`npm start -- --help\` says what does.` }
  }
  return { ok: true, options }
}

function splitAtEquals(word: string): [string, string] {
  const at = word.indexOf('=')
  return [word.slice(0, at), word.slice(at + 1)]
}
