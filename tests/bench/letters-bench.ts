import { execFileSync } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import { z } from 'zod'
import type { Measure, MeasureLine } from './measure.ts'

const drawnSchema = z.object({ seconds: z.number(), megabytes: z.number(), bytes: z.number() })

function draw(way: 'ours' | 'bare', count: number) {
  const script = fileURLToPath(new URL('./letters-in-a-process.ts', import.meta.url))
  return drawnSchema.parse(
    JSON.parse(execFileSync(process.execPath, [script, way, String(count)], { encoding: 'utf8' })),
  )
}

/** The best of a few goes: the machine has other things to do. */
function bestOf(way: 'ours' | 'bare', count: number) {
  const goes = [draw(way, count), draw(way, count), draw(way, count)]
  return goes.reduce((best, one) => (one.seconds < best.seconds ? one : best))
}

/** Letters against bare pdfkit drawing the same text with the same font, and memory however many. Floors: 1.3 times, 200 MB. */
async function measureLetters(households: number, letters: number): Promise<MeasureLine[]> {
  const some = Math.min(1_000, households)
  const bare = bestOf('bare', some)
  const ours = bestOf('ours', some)
  return [
    {
      name: `letters.${some}.seconds`,
      value: ours.seconds,
      unit: 's',
      ratio: ours.seconds / bare.seconds,
      floor: 1.3 * bare.seconds,
    },
    { name: `letters.${some}.bare-pdfkit.seconds`, value: bare.seconds, unit: 's' },
    {
      name: `letters.${some}.peak`,
      value: ours.megabytes,
      unit: 'MB',
      ratio: ours.megabytes / bare.megabytes,
      floor: 200,
    },
    { name: `letters.${some}.bare-pdfkit.peak`, value: bare.megabytes, unit: 'MB' },
    ...(letters > 0
      ? [{ name: `letters.${letters}.peak`, value: draw('ours', letters).megabytes, unit: 'MB', floor: 200 }]
      : []),
  ]
}

export const measures: readonly Measure[] = [{ name: 'letters', run: measureLetters }]
