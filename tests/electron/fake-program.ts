/** What the fuse tool looks for in a program: this mark, then the schema's version, the number of fuses, and a sign for each. */
const SENTINEL = 'dL7pKGdnNz796PbbjQWNKmHXBZaB9tsX'
const SCHEMA = 1

/** Stands for Electron's own program: some bytes, the mark, the fuses, some more bytes. */
export function fakeProgram(fuses: readonly boolean[]): Buffer {
  return Buffer.concat([
    Buffer.from('the program begins '.repeat(400)),
    Buffer.from(SENTINEL),
    Buffer.from([SCHEMA, fuses.length]),
    Buffer.from(fuses.map((on) => (on ? '1' : '0')).join('')),
    Buffer.from(' and goes on'.repeat(400)),
  ])
}

/** Where the signs of the fuses begin in such a program. */
export function wirePlace(program: Buffer): number {
  return program.indexOf(SENTINEL) + SENTINEL.length + 2
}
