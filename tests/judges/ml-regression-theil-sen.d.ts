/** The reference library has no types of its own; this is what the tests ask of it. */
declare module 'ml-regression-theil-sen' {
  export class TheilSenRegression {
    constructor(x: readonly number[], y: readonly number[])
    readonly slope: number
    readonly intercept: number
  }
}
