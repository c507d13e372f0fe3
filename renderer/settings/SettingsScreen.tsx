import { EmptyPlace } from '../design/EmptyPlace.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'

export function SettingsScreen() {
  return (
    <Sheets>
      <Sheet title="Settings">
        <EmptyPlace why="This sheet is not laid out yet." />
      </Sheet>
    </Sheets>
  )
}
