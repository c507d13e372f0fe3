import { useState } from 'react'

const KEY = 'penstock.pull.'

/** A choice of this machine's pull sheet, one of a few words, which it remembers: whether it sounds, what a scan ticks. */
export function useKeptChoice<Word extends string>(
  name: string,
  words: readonly Word[],
  usual: Word,
): readonly [Word, (word: Word) => void] {
  const [chosen, setChosen] = useState<Word>(() => words.find((word) => word === read(name)) ?? usual)
  const choose = (word: Word): void => {
    setChosen(word)
    try {
      localStorage.setItem(KEY + name, word)
    } catch {
      // The choice holds until the sheet is left.
    }
  }
  return [chosen, choose]
}

function read(name: string): string | null {
  try {
    return localStorage.getItem(KEY + name)
  } catch {
    return null
  }
}
