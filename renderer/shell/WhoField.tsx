import { TextField } from '../design/Field.tsx'
import { useWhoSitsHere } from './who-sits-here.ts'

/** Who writes this down: asked once a window, and written beside every movement, count and change that follows. */
export function WhoField({ label = 'Written down by' }: { readonly label?: string }) {
  const [name, sitDown] = useWhoSitsHere()
  return <TextField label={label} value={name} onChange={(typed) => sitDown(typed.slice(0, 40))} chars={16} />
}
