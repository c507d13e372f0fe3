import { z } from 'zod'
import { fileOfBooks, listBackups, makeBackup, removeBackup } from '../database/backup-files.ts'
import { ok, refused } from '../result.ts'
import { namedWork } from '../work/work.ts'
import { backupsToKeep } from './backups-to-keep.ts'

/** Makes a checked backup of the books, and lets go of those that need not be kept. BACKUP_NO_FILE on a server or in memory. */
export const backUpWork = namedWork({
  input: z.object({}),
  run: async (desk) => {
    const file = await fileOfBooks(desk.read, desk.dialect)
    if (file === null) return refused('BACKUP_NO_FILE')
    if (!(await desk.progress({ done: 0, total: 0, saying: 'copying the books' }))) return refused('WORK_STOPPED')
    const backup = await makeBackup(file, desk.now, 'asked')
    const all = listBackups(file)
    const kept = new Set(backupsToKeep(all, desk.today).map(({ name }) => name))
    const dropped = all.filter(({ name }) => !kept.has(name) && name !== backup.name)
    for (const { name } of dropped) removeBackup(file, name)
    return ok({ backup, dropped: dropped.length })
  },
})
