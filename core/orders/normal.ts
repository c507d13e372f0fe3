/** 1 / √(2π) */
const AT_MIDDLE = 0.3989422804014327

/** The density of the standard normal: `normalDensity(0)` is 0.3989. */
export function normalDensity(z: number): number {
  return AT_MIDDLE * Math.exp((-z * z) / 2)
}

/** The chance of lying at or below z: `normalBelow(1.6449)` is 0.95. Close to all digits in both tails. */
export function normalBelow(z: number): number {
  if (Number.isNaN(z)) throw new RangeError('Not a number of deviations')
  if (z < -2) return tail(-z)
  if (z > 2) return 1 - tail(z)
  return 0.5 + normalDensity(z) * series(z)
}

/** z + z³/3 + z⁵/(3·5) + ...: all terms of one sign. G. Marsaglia, Evaluating the Normal Distribution, 2004 (from memory). */
function series(z: number): number {
  let term = z
  let sum = z
  for (let n = 3; Math.abs(term) > 1e-17 * Math.abs(sum); n += 2) {
    term *= (z * z) / n
    sum += term
  }
  return sum
}

/** Above z > 2: density / (z + 1/(z + 2/(z + 3/(z + ...)))), Laplace's continued fraction (Abramowitz and Stegun 26.2.14, from memory). */
function tail(z: number): number {
  if (z > 39) return 0
  let below = z
  for (let n = 160; n > 0; n--) below = z + n / below
  return normalDensity(z) / below
}

/** Coefficients of the rational approximation of the normal quantile by P. J. Acklam (from memory; relative error below 1.2e-9). */
const CENTRE_TOP = [
  -39.69683028665376, 220.9460984245205, -275.9285104469687, 138.357751867269, -30.66479806614716, 2.506628277459239,
]
const CENTRE_BOTTOM = [
  -54.47609879822406, 161.5858368580409, -155.6989798598866, 66.80131188771972, -13.28068155288572, 1,
]
const TAIL_TOP = [
  -0.007784894002430293, -0.3223964580411365, -2.400758277161838, -2.549732539343734, 4.374664141464968,
  2.938163982698783,
]
const TAIL_BOTTOM = [0.007784695709041462, 0.3224671290700398, 2.445134137142996, 3.754408661907416, 1]

const polynomial = (coefficients: readonly number[], x: number): number =>
  coefficients.reduce((sum, coefficient) => sum * x + coefficient, 0)

/** The standard normal quantile: `normalQuantile(0.95)` is 1.6449. Throws RangeError outside the open interval (0, 1). */
export function normalQuantile(share: number): number {
  if (!(share > 0 && share < 1)) throw new RangeError(`Not a share between 0 and 1: ${share}`)
  // The upper half mirrors the lower, where shares are known to more digits
  return share > 0.5 ? -refined(1 - share) : refined(share)
}

/** One step of Halley's rule takes the approximation to nearly all digits. */
function refined(share: number): number {
  const z = approximated(share)
  const error = (normalBelow(z) - share) / normalDensity(z)
  return z - error / (1 + (z * error) / 2)
}

function approximated(share: number): number {
  if (share < 0.02425) {
    const q = Math.sqrt(-2 * Math.log(share))
    return polynomial(TAIL_TOP, q) / polynomial(TAIL_BOTTOM, q)
  }
  const q = share - 0.5
  return (polynomial(CENTRE_TOP, q * q) * q) / polynomial(CENTRE_BOTTOM, q * q)
}

/** How far a standard normal exceeds z on average (the unit loss): `normalLoss(0)` is 0.3989. */
export function normalLoss(z: number): number {
  return z > 2 ? tailLoss(z) : normalDensity(z) - z * (1 - normalBelow(z))
}

/** Far out, density and z times tail are nearly the same: their difference by parts of the continued fraction instead. */
function tailLoss(z: number): number {
  if (z > 39) return 0
  let below = z
  for (let n = 160; n > 1; n--) below = z + n / below
  // density − z·density/(z + 1/below) = density · (1/below) / (z + 1/below)
  return normalDensity(z) / (z * below + 1)
}
