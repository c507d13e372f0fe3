import { office } from '../shell/office-door.ts'

/**
 * Sends a file to the office piece by piece, so that neither side holds it whole and nobody waits for it; returns the key under which
 * it is held, or null when it was stopped, and then nothing of it is kept. `onSent` hears the bytes that have arrived.
 */
export async function sendFile(
  file: File,
  onSent: (bytes: number) => void,
  isStopped: () => boolean,
): Promise<number | null> {
  const { fileId, pieceBytes } = await office.imports.begin({ name: file.name, size: file.size })
  for (let position = 0; position * pieceBytes < file.size; position += 1) {
    if (isStopped()) {
      await office.imports.drop({ fileId })
      return null
    }
    const from = position * pieceBytes
    const bytes = file.slice(from, from + pieceBytes)
    await office.imports.piece({ fileId, position, bytes })
    onSent(Math.min(file.size, from + pieceBytes))
  }
  return fileId
}
