import type { ReactNode } from 'react'
import './picture.css'

interface PictureProps {
  /** What it shows: "Rejection of this membrane, %". */
  readonly title: string
  /** The same in words, for those who do not see it. */
  readonly words: string
  readonly width: number
  readonly height: number
  /** SVG. Use the classes `picture-line`, `picture-rule`, `picture-water`, `picture-words`. */
  readonly children: ReactNode
}

/** A frame for a drawing: scales to its place, and says in words what it shows. */
export function Picture({ title, words, width, height, children }: PictureProps) {
  return (
    <figure className="picture">
      <svg
        role="img"
        aria-label={`${title}. ${words}`}
        viewBox={`0 0 ${width} ${height}`}
        width={width}
        height={height}
      >
        {children}
      </svg>
    </figure>
  )
}
