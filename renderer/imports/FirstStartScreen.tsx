import { EmptyPlace } from '../design/EmptyPlace.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'

export function FirstStartScreen() {
  return (
    <Sheets>
      <Sheet title="FirstStart">
        <EmptyPlace why="This sheet is not laid out yet." />
      </Sheet>
    </Sheets>
  )
}
