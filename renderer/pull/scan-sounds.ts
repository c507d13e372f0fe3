/** A note: its pitch in hertz, when it begins and how long it is, in seconds. */
interface Note {
  readonly hertz: number
  readonly from: number
  readonly long: number
}

/** A yes is one high short note, a no two low ones that fall: told apart beside a running compressor, by whoever hears little of one end. */
const SOUNDS: Readonly<Record<'yes' | 'no', { readonly shape: OscillatorType; readonly notes: readonly Note[] }>> = {
  yes: { shape: 'sine', notes: [{ hertz: 1046.5, from: 0, long: 0.09 }] },
  no: {
    shape: 'square',
    notes: [
      { hertz: 233.1, from: 0, long: 0.16 },
      { hertz: 155.6, from: 0.2, long: 0.26 },
    ],
  },
}

let air: AudioContext | null = null

/** Sounds a yes or a no, made on the spot. A window without sound stays silent; the words say it all. */
export function sound(which: 'yes' | 'no'): void {
  try {
    air ??= new AudioContext()
    const { destination, currentTime } = air
    if (air.state === 'suspended') void air.resume()
    for (const { hertz, from, long } of SOUNDS[which].notes) {
      const [note, loudness] = [air.createOscillator(), air.createGain()]
      note.type = SOUNDS[which].shape
      note.frequency.value = hertz
      const begin = currentTime + from
      // Without a soft end it clicks.
      loudness.gain.setValueAtTime(0.2, begin)
      loudness.gain.exponentialRampToValueAtTime(0.001, begin + long)
      note.connect(loudness).connect(destination)
      note.start(begin)
      note.stop(begin + long)
    }
  } catch {
    // No sound here.
  }
}
