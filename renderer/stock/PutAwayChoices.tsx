import type { PlaceId } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import './delivery.css'

interface PutAwayChoicesProps {
  readonly choices: readonly { readonly placeId: PlaceId; readonly name: string; readonly words: string }[]
  /** The chosen place. */
  readonly place: string | null
  readonly onChoose: (placeId: PlaceId) => void
}

/** Where it can go, the best first, each with its reason; another is one press away. */
export function PutAwayChoices({ choices, place, onChoose }: PutAwayChoicesProps) {
  if (choices.length === 0) return null
  return (
    <ul className="put-away" aria-label="Where it can go">
      {choices.map((each) => {
        const isChosen = String(each.placeId) === place
        return (
          <li key={each.placeId}>
            <span className={isChosen ? 'bold' : 'second'}>{each.words}</span>
            {!isChosen && (
              <Button kind="quiet" onPress={() => onChoose(each.placeId)}>
                Put it into {each.name}
              </Button>
            )}
          </li>
        )
      })}
    </ul>
  )
}
