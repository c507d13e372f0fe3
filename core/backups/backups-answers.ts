import { implement } from '@orpc/server'
import { answer, type Desk } from '../answering.ts'
import {
  askToPutBack,
  faultOf,
  fileOfBooks,
  forgetToPutBack,
  listBackups,
  nameToPutBack,
  pathOfBackup,
} from '../database/backup-files.ts'
import { ok, type Result, refused } from '../result.ts'
import { backupsContract } from './backups-contract.ts'
import type { Backup } from './backups-to-keep.ts'

async function list(desk: Desk): Promise<Result<{ file: string; backups: Backup[]; waiting: string | null }>> {
  const file = await fileOfBooks(desk.read, desk.dialect)
  if (file === null) return ok({ file: '', backups: [], waiting: null })
  return ok({ file, backups: listBackups(file), waiting: nameToPutBack(file) })
}

async function putBack(desk: Desk, { name }: { name: string | null }): Promise<Result<{ waiting: string | null }>> {
  const file = await fileOfBooks(desk.read, desk.dialect)
  if (file === null) return refused('BACKUP_NO_FILE')
  if (name === null) {
    forgetToPutBack(file)
    return ok({ waiting: null })
  }
  const path = pathOfBackup(file, name)
  if (path === null) return refused('BACKUP_GONE', { name })
  const fault = faultOf(path)
  if (fault !== null) return refused('BACKUP_DAMAGED', { name })
  askToPutBack(file, name)
  return ok({ waiting: name })
}

const door = implement(backupsContract).$context<Desk>()
export const backupsAnswers = door.router({
  list: door.list.handler(answer((desk) => list(desk))),
  putBack: door.putBack.handler(answer(putBack)),
})
