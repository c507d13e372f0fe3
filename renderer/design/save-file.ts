import type { DesktopExtras, PrintedPaper } from '../../electron/preload/desktop-extras.ts'

declare global {
  interface Window {
    /** The extras of the desktop window; absent in a browser. */
    readonly desktop?: DesktopExtras
  }
}

/** Saves a text under a name: by the desktop's own dialog, otherwise as a download. False when the user thought better of it. */
export async function saveText(name: string, type: string, text: string): Promise<boolean> {
  if (window.desktop?.saveText) return window.desktop.saveText(name, text)
  const address = URL.createObjectURL(new Blob([text], { type: `${type};charset=utf-8` }))
  press(address, name)
  setTimeout(() => URL.revokeObjectURL(address), 60_000)
  return true
}

/** Saves a paper (`/papers/...pdf`) under a name. */
export async function savePaper(address: string, name: string): Promise<boolean> {
  if (window.desktop?.savePaper) return window.desktop.savePaper(address, name)
  press(address, name)
  return true
}

/** What a desktop window has to say of a printed page; a browser shows the page itself. */
export type PaperTold = PrintedPaper

const hearing = new Set<(told: PaperTold) => void>()

/** Hears what became of every page that is printed; the answer stops hearing. */
export function onPaperTold(hear: (told: PaperTold) => void): () => void {
  hearing.add(hear)
  return () => void hearing.delete(hear)
}

/** Opens a paper where it can be printed: by the desktop in the machine's own reader, otherwise in a window of its own. */
export async function printPaper(address: string): Promise<boolean> {
  if (window.desktop?.printPaper) {
    // A door that broke made no page.
    const told = await window.desktop.printPaper(address).catch((): PaperTold => 'no-paper')
    for (const hear of hearing) hear(told)
    return told === 'opened'
  }
  window.open(address, '_blank', 'noopener')
  return true
}

function press(address: string, name: string): void {
  const link = document.createElement('a')
  link.href = address
  link.download = name
  document.body.append(link)
  link.click()
  link.remove()
}
