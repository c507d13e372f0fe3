const SMALL_NUMBERS = [
  'no',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
]

/** "six", "twelve", "13". */
export function numberInWords(count: number): string {
  return SMALL_NUMBERS[count] ?? String(count)
}

/** "one person", "household of two", "family of six": a family from the large household on. */
export function peopleInWords(people: number, largeHouseholdPeople: number): string {
  if (people <= 0) return 'nobody there'
  if (people === 1) return 'one person'
  return `${people >= largeHouseholdPeople ? 'family' : 'household'} of ${numberInWords(people)}`
}

/** "6 months", "1 month", "no time at all". */
export function monthsInWords(months: number): string {
  if (months === 0) return 'no time at all'
  // Without the country's grouping of digits: it is written half a million times when everything is reckoned again.
  return months === 1 ? '1 month' : `${months} months`
}
