// One way of drawing letters, alone in a process, so that time and peak memory are its own.
// node letters-in-a-process.ts ours|bare COUNT: prints { seconds, megabytes, bytes }.
import { once } from 'node:events'
import { isMainThread, Worker } from 'node:worker_threads'

const [, , way = 'ours', countText = '1000'] = process.argv

/**
 * Ours are drawn as the program draws them: in a thread with the small heap that core/work/own-thread.ts gives to papers. What draws
 * is loaded there only: a second copy of every module in this thread would be measured, too.
 */
if (way === 'ours' && isMainThread) {
  const limits = { maxYoungGenerationSizeMb: 8, maxOldGenerationSizeMb: 160 }
  await once(new Worker(new URL(import.meta.url), { argv: process.argv.slice(2), resourceLimits: limits }), 'exit')
} else {
  const { drawBare, drawOurs } = await import('./draw-letters.ts')
  const drawn = await (way === 'bare' ? drawBare : drawOurs)(Number(countText))
  console.log(JSON.stringify({ ...drawn, megabytes: process.resourceUsage().maxRSS / 1024 }))
}
