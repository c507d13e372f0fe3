import type { Office } from '../../core/office.ts'
import { WORKS } from '../../core/works.ts'

/** The demo office with eighty households instead of six hundred, in books that nobody has founded yet. */
export async function aSmallDemo(office: Office): Promise<void> {
  const written = await WORKS.demo?.run({ ...office.desk(), progress: async () => true }, { households: 80 })
  if (!written?.ok)
    throw new Error(`The demo office could not be written: ${written?.problem.sentence ?? 'no such work'}`)
}
