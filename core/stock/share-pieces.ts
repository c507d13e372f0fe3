/** What a stop should get of a line. */
export interface StopShare {
  readonly stop: number
  readonly quantity: number
}

/**
 * Shares the pieces that were found among the stops of a line, in stop order: the last ones go without. The given rows, in that
 * order, with what each gets and what it lacks; the two add up to what it should get.
 */
export function sharePieces<Row extends StopShare>(
  stops: readonly Row[],
  found: number,
): (Row & { readonly gets: number; readonly lacks: number })[] {
  let left = Math.max(0, found)
  return [...stops]
    .sort((a, b) => a.stop - b.stop)
    .map((row) => {
      const gets = Math.min(row.quantity, left)
      left -= gets
      return { ...row, gets, lacks: row.quantity - gets }
    })
}

/** The stop whose tote the so-many-th piece of a line goes into, from 1; null when no stop asks for it. */
export function stopOfPiece(stops: readonly StopShare[], nth: number): number | null {
  let before = 0
  for (const row of [...stops].sort((a, b) => a.stop - b.stop)) {
    before += row.quantity
    if (nth <= before) return row.stop
  }
  return null
}
