import { EmptyPlace } from '../design/EmptyPlace.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'

export function HouseholdsScreen() {
  return (
    <Sheets>
      <Sheet title="Households">
        <EmptyPlace why="This sheet is not laid out yet." />
      </Sheet>
    </Sheets>
  )
}
