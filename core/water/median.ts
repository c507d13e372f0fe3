/** The middle of the values, or half-way between the middle two; null when there are none. */
export function medianOf(values: readonly number[]): number | null {
  const sorted = [...values].sort((a, b) => a - b)
  const half = sorted.length / 2
  const upper = sorted[Math.floor(half)]
  const lower = sorted[Math.ceil(half) - 1]
  return upper === undefined || lower === undefined ? null : (lower + upper) / 2
}
