import { useEffect, useState } from 'react'
import { Button } from '../design/Button.tsx'
import { onPaperTold, type PaperTold } from '../design/save-file.ts'
import '../design/progress.css'

const ONE_MINUTE = 60_000

const WORDS: Readonly<Record<PaperTold, string>> = {
  opened: 'Opens in your PDF reader; print from there.',
  'no-reader':
    'No PDF reader took the page, so nothing was printed. Save the page instead, or set a reader for PDF files on this machine.',
  'no-paper':
    'The page could not be made, so nothing was printed. Look whether the sheet is still as you see it, then print again.',
}

/** Says at the foot where a printed page went, or why it went nowhere. Only in the desktop window: a browser shows the page itself. */
export function PaperLine() {
  const [told, setTold] = useState<{ readonly paper: PaperTold } | null>(null)
  useEffect(() => onPaperTold((paper) => setTold({ paper })), [])
  useEffect(() => {
    if (!told) return
    const timer = setTimeout(() => setTold(null), ONE_MINUTE)
    return () => clearTimeout(timer)
  }, [told])
  return (
    <div aria-live="polite">
      {told && (
        <div className="undo-line">
          <p>{WORDS[told.paper]}</p>
          <Button kind="quiet" onPress={() => setTold(null)}>
            Leave it
          </Button>
        </div>
      )}
    </div>
  )
}
