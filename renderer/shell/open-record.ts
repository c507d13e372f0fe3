import { useNavigate, useSearch } from '@tanstack/react-router'
import { useCallback, useEffect } from 'react'
import type { AddressWords } from './address-words.ts'

/**
 * The record opened in the second sheet, kept in the address: it survives a reload, and going back closes it. Escape closes it
 * (unless a field, a menu or a decision takes the key first).
 */
export function useOpenRecord(): readonly [string | null, (key: string | null) => void] {
  const [open, setOpen] = useAddressWord('open')
  useEffect(() => {
    if (open === null) return
    const onKey = (event: KeyboardEvent): void => {
      if (event.key !== 'Escape' || event.defaultPrevented) return
      event.preventDefault()
      setOpen(null)
    }
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
  }, [open, setOpen])
  return [open, setOpen]
}

/** A word of the address that belongs to a screen: `const [day, setDay] = useAddressWord('day')`. */
export function useAddressWord(word: string): readonly [string | null, (value: string | null) => void] {
  const search: AddressWords = useSearch({ strict: false })
  const navigate = useNavigate()
  const setWord = useCallback(
    (value: string | null): void => {
      void navigate({
        to: '.',
        search: (before: AddressWords) => ({ ...before, [word]: value ?? undefined }),
        replace: true,
      })
    },
    [navigate, word],
  )
  return [search[word] ?? null, setWord]
}

/** Goes to another screen, with a record opened: `goTo('/households', '41')`. */
export function useGoTo(): (address: string, open?: string) => void {
  const navigate = useNavigate()
  return useCallback(
    (address: string, open?: string): void => {
      void navigate({ to: address, search: open === undefined ? {} : { open } })
    },
    [navigate],
  )
}
