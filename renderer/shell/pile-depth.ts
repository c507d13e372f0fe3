/** How thick the pile of paper in a tray is drawn: 0 to 5 sheets, by the order of magnitude. */
export function pileDepth(count: number): number {
  if (count <= 0) return 0
  return Math.min(5, 1 + Math.floor(Math.log2(count) / 1.75))
}
