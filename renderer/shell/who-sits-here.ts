import { useSyncExternalStore } from 'react'

const KEY = 'penstock.who'
const heard = new Set<() => void>()

/** The name of whoever sits at this window, as they gave it; empty until they do. The machine keeps it. */
export function whoSitsHere(): string {
  try {
    return localStorage.getItem(KEY) ?? ''
  } catch {
    return ''
  }
}

function sitDown(name: string): void {
  try {
    localStorage.setItem(KEY, name)
  } catch {
    // Not kept: the books name the office then.
  }
  for (const tell of heard) tell()
}

function listen(tell: () => void): () => void {
  heard.add(tell)
  return () => heard.delete(tell)
}

/** The name, and the way to give another; every field that shows it follows. */
export function useWhoSitsHere(): readonly [string, (name: string) => void] {
  return [useSyncExternalStore(listen, whoSitsHere), sitDown]
}
