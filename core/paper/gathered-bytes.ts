/** Text is turned into bytes by this much at once. */
const TEXT_AT_ONCE = 64 * 1024

/**
 * Bytes of a file as they come, in few large pieces: a PDF is written in hundreds of thousands of short lines, and a piece of memory
 * for each would outweigh the pages.
 */
export class GatheredBytes {
  #pieces: Uint8Array[] = []
  #text = ''

  /** Takes bytes, or a line of one-byte characters and its end. Returns how many bytes that is. */
  add(data: string | Uint8Array): number {
    if (typeof data === 'string') {
      this.#text += `${data}\n`
      if (this.#text.length > TEXT_AT_ONCE) this.#turnText()
      return data.length + 1
    }
    this.#turnText()
    this.#pieces.push(data)
    return data.length
  }

  /** Everything since the last time, in order. */
  take(): readonly Uint8Array[] {
    this.#turnText()
    const pieces = this.#pieces
    this.#pieces = []
    return pieces
  }

  #turnText(): void {
    if (this.#text === '') return
    this.#pieces.push(Buffer.from(this.#text, 'latin1'))
    this.#text = ''
  }
}
