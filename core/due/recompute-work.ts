import { z } from 'zod'
import { ok, refused } from '../result.ts'
import { counted } from '../units/date-words.ts'
import { namedWork } from '../work/work.ts'
import { lastInstallationId, readDueDefaults } from './due-facts-store.ts'
import { recomputeDueDates, STRETCH } from './recompute-answers.ts'

/** Reckons every due date again, a stretch at a time so that others can write in between. Stopped half way, what was done is right and stays. */
export const recomputeWork = namedWork({
  input: z.object({}),
  run: async (desk) => {
    const last = await lastInstallationId(desk.read, desk.officeId)
    let changed = 0
    for (let after = 0; after < last; after += STRETCH) {
      const done = Math.min(after + STRETCH, last)
      const stretch = await desk.write(async (books) => {
        const defaults = await readDueDefaults(books.read, books.officeId)
        return ok(await recomputeDueDates(books, { kind: 'stretch', after, until: done }, defaults))
      })
      if (!stretch.ok) return stretch
      changed += stretch.value
      const saying = `due dates of ${counted(done, 'unit')} reckoned, ${counted(changed, 'stage')} changed`
      if (!(await desk.progress({ done, total: last, saying }))) return refused('WORK_STOPPED')
    }
    return ok({ changed })
  },
})
