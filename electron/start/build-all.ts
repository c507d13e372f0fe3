import { fileURLToPath } from 'node:url'
import { buildWhenStale } from './build-when-stale.ts'

const root = fileURLToPath(new URL('../..', import.meta.url))
for (const what of ['window', 'shell'] as const) {
  const fresh = await buildWhenStale(root, what)
  console.log(fresh ? `Built the ${what}.` : `The ${what} is up to date.`)
}
