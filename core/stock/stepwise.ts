/** A reckoning that stops for breath now and then, so that whoever runs it may do something else in between; what comes of it is the same. */
export type Stepwise<Value> = Generator<undefined, Value, undefined>

/** Runs a reckoning in one go. */
export function inOneGo<Value>(steps: Stepwise<Value>): Value {
  for (;;) {
    const step = steps.next()
    if (step.done) return step.value
  }
}
