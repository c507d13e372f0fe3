import { useState } from 'react'
import { InlineChoice } from '../design/ChoiceField.tsx'
import { chooseTheme, chosenTheme, type Theme } from './theme.ts'

const THEMES: readonly { readonly id: Theme; readonly words: string }[] = [
  { id: 'machine', words: 'as the machine is set' },
  { id: 'light', words: 'light' },
  { id: 'dark', words: 'dark' },
]

/** Light or dark paper, remembered on this machine. */
export function ThemeChoice() {
  const [theme, setTheme] = useState<Theme>(chosenTheme)
  const choose = (next: Theme): void => {
    setTheme(next)
    chooseTheme(next)
  }
  return <InlineChoice words="paper" label="light or dark" choices={THEMES} value={theme} onChange={choose} />
}
