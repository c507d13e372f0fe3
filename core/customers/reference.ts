import { foldText } from './fold-text.ts'

/** A customer's reference as it stands on letters: initials of the listed name and a number. `referenceFor('Bexhill-Moreno, Idris', 417)` is "BM-0417". */
export function referenceFor(sortName: string, number: number): string {
  const words = foldText(sortName.split(',')[0] ?? '')
    .split(/[^a-z0-9]+/)
    .filter((word) => word !== '')
  const first = words[0] ?? 'c'
  const initials = words.length > 1 ? `${first[0]}${words[1]?.[0] ?? ''}` : first.slice(0, 2)
  return `${initials.toUpperCase()}-${String(number).padStart(4, '0')}`
}
