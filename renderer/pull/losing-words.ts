import type { LosingVisitRow, VanPullRow } from '../../core/stock/pull-contract.ts'
import { counted } from '../../core/units/date-words.ts'
import type { MeasureSystem } from '../../core/units/measures.ts'
import { roomText } from '../stock/room-words.ts'

/** What the press that pulls for a visit all the same says; on a list that is not begun it begins it. */
export function allTheSameWords(van: VanPullRow, visit: LosingVisitRow): string {
  const pieces = `${counted(visit.couldHave, 'piece')} for it all the same`
  return van.state === 'not-begun' ? `Begin pulling, with ${pieces}` : `Pull ${pieces}`
}

/** How full a van will be, and that it will not hold what it needs; empty where nobody measured it. */
export function roomWords({ van, room }: VanPullRow, measures: MeasureSystem): string {
  if (room === null) return ''
  const [taken, has] = [roomText(room.taken, measures), roomText(room.has, measures)]
  if (room.taken <= room.has) return `${van} will be loaded with ${taken} of ${has}.`
  return `${van} has room for ${has} and is to carry ${taken}: what its visits need is pulled all the same. Take something off it, or give a visit to another van.`
}

/** What a van does not get of what it always carries, and why. */
export function parWords({ parLeftOut }: VanPullRow): string {
  const list = (why: 'none-left' | 'no-room') =>
    parLeftOut
      .filter((each) => each.why === why)
      .map((each) => `${each.quantity} ${each.part.name}`)
      .join(', ')
  const [none, noRoom] = [list('none-left'), list('no-room')]
  return [
    none === '' ? '' : `Not topped up, as none is to spare: ${none}.`,
    noRoom === '' ? '' : `Not topped up, as there is no room: ${noRoom}.`,
  ]
    .filter((sentence) => sentence !== '')
    .join(' ')
}
