/**
 * How many of unequal tosses come up, by the discrete Fourier transform of the characteristic function: Y. Hong, On computing the
 * distribution function for the Poisson binomial distribution, Computational Statistics & Data Analysis 59 (2013) 41-51, doi
 * 10.1016/j.csda.2012.10.006 (the formula from memory, the paper not seen). With ω = 2π/(n+1) and x_l = Π (1 - p + p·e^(iωl)),
 * the chance of k is 1/(n+1) · Σ e^(-iωlk) x_l. Factors that have shrunk to nothing are left out: they add less than 1e-24 in all.
 */
export function chancesByTransform(chances: readonly number[]): number[] {
  const n = chances.length
  const angle = (2 * Math.PI) / (n + 1)
  const factors: { readonly l: number; readonly re: number; readonly im: number }[] = []
  // x at n+1-l is the mirror of x at l, so that half of them is enough
  for (let l = 1; l <= n / 2; l++) {
    const factor = characteristic(chances, Math.cos(angle * l), Math.sin(angle * l))
    if (Math.abs(factor.re) + Math.abs(factor.im) > 1e-30) factors.push({ l, ...factor })
  }
  const middle = n % 2 === 1 ? characteristic(chances, -1, 0).re : 0
  // Angles are taken within one turn: the sine of a large angle loses digits
  const cos = Float64Array.from({ length: n + 1 }, (_, k) => Math.cos(angle * k))
  const sin = Float64Array.from({ length: n + 1 }, (_, k) => Math.sin(angle * k))
  return Array.from({ length: n + 1 }, (_, k) => {
    let sum = 1 + (k % 2 === 0 ? middle : -middle)
    for (const { l, re, im } of factors) {
      const turned = (l * k) % (n + 1)
      sum += 2 * (re * (cos[turned] ?? 0) + im * (sin[turned] ?? 0))
    }
    return sum / (n + 1)
  })
}

function characteristic(chances: readonly number[], cos: number, sin: number): { re: number; im: number } {
  let re = 1
  let im = 0
  for (const chance of chances) {
    const a = 1 - chance + chance * cos
    const b = chance * sin
    const next = re * a - im * b
    im = re * b + im * a
    re = next
    if (Math.abs(re) + Math.abs(im) < 1e-31) return { re: 0, im: 0 }
  }
  return { re, im }
}

/** The plain convolution, a toss after the other, over all n+1 places. */
export function chancesOneByOne(chances: readonly number[]): Float64Array {
  const sum = new Float64Array(chances.length + 1)
  sum[0] = 1
  chances.forEach((chance, at) => {
    for (let k = at + 1; k > 0; k--) sum[k] = (sum[k] ?? 0) * (1 - chance) + (sum[k - 1] ?? 0) * chance
    sum[0] = (sum[0] ?? 0) * (1 - chance)
  })
  return sum
}
