import { readdirSync } from 'node:fs'
import { parseArgs } from 'node:util'
import type { Measure } from './measure.ts'

/**
 * `npm run bench`: every `x-bench.ts` of this folder, one JSON line a measure. `--only due` (more than once for more) keeps to the
 * measures of that name; `--households 2000` tries the bench itself on a small office; `--letters 10000` also draws so many letters.
 */
const folder = new URL('./', import.meta.url)
const ENDING = '-bench.ts'

interface Asked {
  readonly only: readonly string[]
  readonly households: number
  readonly letters: number
}

/** What the command line asks for, or the sentence that says what is wrong with it. */
function asked(words: readonly string[], known: readonly string[]): Asked | string {
  try {
    const { values } = parseArgs({
      args: [...words],
      options: {
        only: { type: 'string', multiple: true, default: [] },
        households: { type: 'string', default: '100000' },
        letters: { type: 'string', default: '0' },
      },
    })
    const households = Number(values.households)
    if (!Number.isInteger(households) || households < 100) return '--households takes a whole number, 100 or more.'
    const letters = Number(values.letters)
    if (!Number.isInteger(letters) || letters < 0 || letters > 100_000)
      return '--letters takes a whole number, 100000 at most.'
    const unknown = values.only.find((name) => !known.includes(name))
    if (unknown !== undefined) return `Nothing called ${unknown} is measured; there are ${known.join(', ')}.`
    return { only: values.only, households, letters }
  } catch (error) {
    return error instanceof Error ? error.message : String(error)
  }
}

async function main(words: readonly string[]): Promise<number> {
  const files = readdirSync(folder).filter((file) => file.endsWith(ENDING) && file !== `run${ENDING}`)
  const known = files.map((file) => file.slice(0, -ENDING.length)).sort()
  const wanted = asked(words, known)
  if (typeof wanted === 'string') {
    process.stderr.write(`${wanted}\n`)
    return 2
  }
  for (const name of wanted.only.length > 0 ? wanted.only : known) {
    const { measures }: { readonly measures: readonly Measure[] } = await import(
      new URL(`${name}${ENDING}`, folder).href
    )
    for (const { run } of measures)
      for (const line of await run(wanted.households, wanted.letters)) process.stdout.write(`${JSON.stringify(line)}\n`)
  }
  return 0
}

process.exitCode = await main(process.argv.slice(2))
