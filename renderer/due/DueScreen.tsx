import { EmptyPlace } from '../design/EmptyPlace.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'

export function DueScreen() {
  return (
    <Sheets>
      <Sheet title="Due">
        <EmptyPlace why="This sheet is not laid out yet." />
      </Sheet>
    </Sheets>
  )
}
