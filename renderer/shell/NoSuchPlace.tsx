import { Button } from '../design/Button.tsx'
import { EmptyPlace } from '../design/EmptyPlace.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import { useGoTo } from './open-record.ts'

/** An address that leads nowhere. */
export function NoSuchPlace() {
  const goTo = useGoTo()
  return (
    <Sheets>
      <Sheet title="Nothing lies at this address">
        <EmptyPlace
          why="The address may be old, or mistyped."
          todo="Everything can be reached from the desk."
          action={<Button onPress={() => goTo('/')}>Go to the desk</Button>}
        />
      </Sheet>
    </Sheets>
  )
}
