import { useState } from 'react'

/**
 * The text of a field whose value is not text (money, a date, a number). While someone types, the text is theirs; what it means is told to
 * the owner at every key (`null` when it means nothing), and on leaving the field the value is written the office's way.
 */
export function useTypedText<Value>(
  value: Value | null,
  write: (value: Value) => string,
  read: (text: string) => Value | null,
  onChange: (value: Value | null) => void,
) {
  const [typing, setTyping] = useState<string | null>(null)
  const text = typing ?? (value === null ? '' : write(value))
  const meaning = text.trim() === '' ? null : read(text)
  return {
    text,
    /** Something stands there that means nothing. */
    isUnread: text.trim() !== '' && meaning === null,
    onType: (next: string): void => {
      setTyping(next)
      onChange(next.trim() === '' ? null : read(next))
    },
    onLeave: (): void => {
      if (typing !== null && (typing.trim() === '' || read(typing) !== null)) setTyping(null)
    },
  }
}
