import { EmptyPlace } from '../design/EmptyPlace.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'

export function InvoicesScreen() {
  return (
    <Sheets>
      <Sheet title="Invoices">
        <EmptyPlace why="This sheet is not laid out yet." />
      </Sheet>
    </Sheets>
  )
}
