import { z } from 'zod'

/** Keys set aside for the demo's records: the key of the record at a place in its list. */
export interface DemoKeys<Id> {
  readonly at: (place: number) => Id
}

/** Throws RangeError for a place that has no record: that would be a bug of the scenario. */
export function demoKeys<Schema extends z.ZodType<number>>(
  what: string,
  ids: readonly number[],
  schema: Schema,
): DemoKeys<z.output<Schema>> {
  const keys = z.array(schema).parse(ids)
  return {
    at: (place) => {
      const id = keys[place]
      if (id === undefined) throw new RangeError(`The demo has no ${what} at ${place}`)
      return id
    },
  }
}
