import { useState } from 'react'
import { Button } from '../design/Button.tsx'
import { TextField } from '../design/Field.tsx'
import { useSay } from '../design/undo.ts'

/** Puts the order into the clipboard as plain text; where that is not allowed, shows it to be copied by hand. */
export function CopyText({ text, email }: { readonly text: string; readonly email: string }) {
  const say = useSay()
  const [isShown, setShown] = useState(false)
  const copy = async (): Promise<void> => {
    try {
      await navigator.clipboard.writeText(text)
      say({ said: email === '' ? 'The order is copied as text.' : `The order is copied as text. Mail it to ${email}.` })
    } catch {
      setShown(true)
    }
  }
  return (
    <>
      <Button kind="quiet" onPress={() => void copy()}>
        Copy it as text for a mail
      </Button>
      {isShown && <TextField label="The order as text" value={text} onChange={() => undefined} lines={10} />}
    </>
  )
}
