import { readdirSync } from 'node:fs'
import type { Measure } from './measure.ts'

/**
 * `npm run bench`: every `x-bench.ts` of this folder, one JSON line a measure. With words after it only the measures whose name
 * holds one of them: `npm run bench -- due`.
 */
const folder = new URL('./', import.meta.url)
const wanted = process.argv.slice(2)
const files = readdirSync(folder)
  .filter((file) => file.endsWith('-bench.ts'))
  .sort()
for (const file of files) {
  const { measures }: { readonly measures: readonly Measure[] } = await import(new URL(file, folder).href)
  for (const measure of measures) {
    if (wanted.length > 0 && !wanted.some((word) => measure.name.includes(word))) continue
    for (const line of await measure.run()) process.stdout.write(`${JSON.stringify(line)}\n`)
  }
}
