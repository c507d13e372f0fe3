import { fileURLToPath } from 'node:url'
import { buildWhenStale } from '../../electron/start/build-when-stale.ts'

/** The tests run against the window as it is built, never against an old one. */
export default async function buildFirst(): Promise<void> {
  await buildWhenStale(fileURLToPath(new URL('../..', import.meta.url)), 'window')
}
