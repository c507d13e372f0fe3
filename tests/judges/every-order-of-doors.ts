import type { Door } from '../../core/visits/doors-in-time.ts'

/** The slow oracle: tries every order of the doors, one after the other. */
export function someOrderReachesEveryDoor(doors: readonly Door[], dayStartsAt: number, driveMinutes: number): boolean {
  if (doors.length === 0) return true
  return doors.some((door, index) => {
    const arrives = Math.max(dayStartsAt + driveMinutes, door.windowFrom)
    return (
      arrives <= door.windowUntil &&
      someOrderReachesEveryDoor(doors.toSpliced(index, 1), arrives + door.minutes, driveMinutes)
    )
  })
}
