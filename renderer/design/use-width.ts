import { type RefCallback, useCallback, useState } from 'react'

/** The width of the element that gets the returned ref, kept up to date; `first` until it is known. */
export function useWidth(first: number): [RefCallback<HTMLElement>, number] {
  const [width, setWidth] = useState(first)
  const place = useCallback((element: HTMLElement | null) => {
    if (!element) return
    const observer = new ResizeObserver(([entry]) => {
      if (entry) setWidth(Math.floor(entry.contentRect.width))
    })
    observer.observe(element)
    return () => observer.disconnect()
  }, [])
  return [place, width]
}
