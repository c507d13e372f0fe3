import {
  flowSchema,
  type MillilitresPerMinute,
  ML_PER_US_FLUID_OUNCE,
  type Seconds,
  secondsSchema,
  type Vessel,
  vesselSchema,
} from '../units/measures.ts'

/** The flow that fills a known vessel in so many seconds: half a litre in 200 s is 150 mL/min. Null for one beyond what the books keep. */
export function timedFlow(filled: Vessel, time: Seconds): MillilitresPerMinute | null {
  return flowSchema.safeParse((filled * 60) / time).data ?? null
}

/** Millilitres in each measure that a vessel may be marked with; exact by definition. */
const VESSEL_UNITS: ReadonlyMap<string, number> = new Map([
  ['ml', 1],
  ['cl', 10],
  ['l', 1000],
  ['oz', ML_PER_US_FLUID_OUNCE],
  ['floz', ML_PER_US_FLUID_OUNCE],
  ['cup', 8 * ML_PER_US_FLUID_OUNCE],
  ['cups', 8 * ML_PER_US_FLUID_OUNCE],
  ['pt', 16 * ML_PER_US_FLUID_OUNCE],
  ['qt', 32 * ML_PER_US_FLUID_OUNCE],
  ['gal', 128 * ML_PER_US_FLUID_OUNCE],
])

const AMOUNT = String.raw`\d{1,6}(?:[.,]\d{1,4})?`
const TIMED = new RegExp(String.raw`^(${AMOUNT})\s*([a-z][a-z .]*?)\s*(?:\bin\b|/)\s*(\d.*)$`)
const CLOCK = /^(\d{1,3}):([0-5]\d)$/
const SPELLED = new RegExp(String.raw`^(?:(${AMOUNT})\s*(?:min|m)\b\.?)?\s*(?:(${AMOUNT})\s*(?:s|sec)?\b\.?)?$`)

const figureOf = (text: string): number => Number(text.replace(',', '.'))

/** A flow as it was timed: "500 mL in 3:20", "16 oz in 95 s", "1 qt / 2 min 10 s". Null when it is not written so, or took no time. */
export function readTimedFlow(typed: string): MillilitresPerMinute | null {
  const match = TIMED.exec(typed.trim().toLowerCase())
  if (!match) return null
  const unit = VESSEL_UNITS.get((match[2] ?? '').replaceAll(/[ .]/g, '')) ?? 0
  const filled = vesselSchema.safeParse(figureOf(match[1] ?? '') * unit)
  const time = readSeconds(match[3] ?? '')
  return filled.success && time !== null ? timedFlow(filled.data, time) : null
}

/** "3:20", "200 s", "200", "3 min", "3 min 20 s": in seconds; null when it is no time above zero. */
function readSeconds(typed: string): Seconds | null {
  const text = typed.trim()
  const clock = CLOCK.exec(text)
  const spelled = SPELLED.exec(text)
  const count = clock
    ? Number(clock[1]) * 60 + Number(clock[2])
    : text === '' || !spelled
      ? 0
      : figureOf(spelled[1] ?? '0') * 60 + figureOf(spelled[2] ?? '0')
  return secondsSchema.safeParse(count).data ?? null
}
