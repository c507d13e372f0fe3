/**
 * How much saltier than the feed the water along the membrane is on average: ln[1 / (1 - Y)] / Y of the recovery Y, the mean between the feed
 * and what goes down the drain (ASTM D4516 as given by the UNSW desalination pages). 1 when nothing is drawn, 1.151 at 25 %, 1.848 at 75 %.
 * The recovery in percent, from 0 to less than 100; from 99 % on it is taken as 99 %.
 */
export function logMeanConcentration(recoveryPercent: number): number {
  const share = Math.min(recoveryPercent, 99) / 100
  // Below a millionth the logarithm loses its digits, and the factor is 1 + Y/2 to the last of them.
  return share < 1e-6 ? 1 + Math.max(0, share) / 2 : -Math.log1p(-share) / share
}
