/** What a field is called for people: "telephone". */
export type FieldWords<Fields> = { readonly [Name in keyof Fields]: string }

/**
 * What differs between a record as somebody opened it and as it stands now: "telephone: 555-0177 (it was 555-0142)", one after the other.
 * Null when nothing does.
 */
export function changesInWords<Fields extends object>(
  seen: Fields,
  now: Fields,
  words: FieldWords<Fields>,
): string | null {
  const changed = changedFields(seen, now)
  if (changed.length === 0) return null
  return changed
    .map((name) => `${words[name]}: ${valueInWords(now[name])} (it was ${valueInWords(seen[name])})`)
    .join('; ')
}

/** The names of the fields that differ. */
export function changedFields<Fields extends object>(seen: Fields, now: Fields): (keyof Fields)[] {
  return (Object.keys(now) as (keyof Fields)[]).filter((name) => seen[name] !== now[name])
}

function valueInWords(value: unknown): string {
  if (value === null || value === undefined || value === '') return 'blank'
  if (value === true) return 'yes'
  return value === false ? 'no' : String(value)
}
