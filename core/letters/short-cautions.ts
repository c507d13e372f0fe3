import type { StageKind } from '../installations/stage-kinds.ts'

/** The usual cautions, shortened for a letter. They certify nothing and defer to local codes and licensed practice. */
export function shortCautions(due: readonly { readonly kind: StageKind }[]): string {
  const kinds = new Set(due.map((stage) => stage.kind))
  const sanitise = kinds.has('tank')
    ? ' Sanitiser wants gloves, eye protection and fresh air, and never another cleaner with it; membrane and cartridges come out before it goes in.'
    : ''
  return `If you do it yourself: shut the feed and let the pressure off first, keep water away from plugs, look for leaks afterwards, and let the first tankfuls go down the drain.${sanitise} Work on supply or drain lines is a matter of the local plumbing code. A taste or a meter tells nothing about germs or lead; a certified laboratory does.`
}
