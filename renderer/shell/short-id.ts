/** Six figures and letters for a fault, the same for the same fault (FNV-1a, 32 bit): easy to read out on the telephone. */
export function shortId(text: string): string {
  let hash = 0x811c9dc5
  for (let index = 0; index < text.length; index += 1) {
    hash ^= text.charCodeAt(index)
    hash = Math.imul(hash, 0x01000193)
  }
  return (hash >>> 0).toString(36).padStart(7, '0').slice(-6)
}
