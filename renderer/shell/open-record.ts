import { useNavigate, useSearch } from '@tanstack/react-router'
import { useCallback, useEffect } from 'react'

/** What an address may carry beside the place: the record opened in the second sheet, and the screen's own words. */
export interface AddressWords {
  /** Key of the opened record: "41", or "visit-41" where a sheet opens several kinds. */
  readonly open?: string
  /** The screen's own: which tab of a ledger, which day. Kept as typed. */
  readonly [word: string]: string | undefined
}

/** Keeps only texts: an address is typed by hand, too. */
export function readAddressWords(search: Record<string, unknown>): AddressWords {
  return Object.fromEntries(
    Object.entries(search)
      .filter(([, value]) => typeof value === 'string' || typeof value === 'number')
      .map(([word, value]) => [word, String(value)]),
  )
}

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
