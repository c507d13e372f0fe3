import type { StageKind } from '../installations/stage-kinds.ts'
import type { ListStage } from './read-stages.ts'

/** Kinds of which a unit has one; a second row of one is another date of the same stage. */
const ONE_OF_ITS_KIND: ReadonlySet<StageKind> = new Set<StageKind>(['membrane', 'tank', 'softener', 'uv-lamp'])

export function isOneOfItsKind(kind: StageKind): boolean {
  return ONE_OF_ITS_KIND.has(kind)
}

/** Whether two rows of a household tell of the same stage, by what the list says of either. */
export function isSameStage(known: ListStage, stage: ListStage): boolean {
  if (known.kind !== stage.kind) return false
  if (known.rank !== null || stage.rank !== null) return known.rank === stage.rank
  if (known.nth !== null || stage.nth !== null) return (known.nth ?? 1) === (stage.nth ?? 1)
  if (known.place !== null && stage.place !== null) return known.place === stage.place
  if (isOneOfItsKind(stage.kind)) return true
  if (known.label !== stage.label || (known.part !== '' && stage.part !== '' && known.part !== stage.part)) return false
  // The same filter twice on one day is two filters; on different days it is one, changed twice.
  return known.changedOn !== stage.changedOn
}
