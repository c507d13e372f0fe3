import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs'
import { basename, dirname, join } from 'node:path'
import Database from 'better-sqlite3'
import { sql } from 'kysely'
import { type CalendarDate, calendarDate, isCalendarDate } from '../units/calendar-date.ts'
import type { ReadDb } from './handles.ts'

const REASONS = ['asked', 'before-change', 'before-putting-back'] as const

/** A backup beside the books: when it was made (UTC), why, how large. */
export interface BackupFile {
  readonly name: string
  readonly takenOn: CalendarDate
  readonly takenAt: string
  readonly why: (typeof REASONS)[number]
  readonly bytes: number
}

/** Where the open books lie; null for books without a file of their own (in memory, or on a server). */
export async function fileOfBooks(db: ReadDb, dialect: 'sqlite' | 'postgres'): Promise<string | null> {
  if (dialect === 'postgres') return null
  const row = await db
    .selectFrom(sql<{ name: string; file: string }>`pragma_database_list`.as('list'))
    .select('list.file')
    .where('list.name', '=', 'main')
    .executeTakeFirst()
  return row?.file || null
}

function folderOf(file: string): string {
  return join(dirname(file), 'backups')
}

/** `books.sqlite.2026-12-01T12-00-00.asked`: when it was made and why, in the name, so that a folder tells its own story. */
const NAME = /\.(\d{4}-\d{2}-\d{2})T(\d{2})-(\d{2})-(\d{2})\.([a-z-]+)$/

/** The backups beside the books, newest first. */
export function listBackups(file: string): BackupFile[] {
  const folder = folderOf(file)
  if (!existsSync(folder)) return []
  const backups = readdirSync(folder).flatMap((name): BackupFile[] => {
    const [, date = '', hour, minute, second, reason] = NAME.exec(name) ?? []
    const why = REASONS.find((known) => known === reason)
    if (!isCalendarDate(date) || why === undefined || !name.startsWith(`${basename(file)}.`)) return []
    const takenAt = `${date}T${hour}:${minute}:${second}.000Z`
    return [{ name, takenOn: calendarDate(date), takenAt, why, bytes: statSync(join(folder, name)).size }]
  })
  return backups.sort((a, b) => (a.takenAt < b.takenAt ? 1 : -1))
}

/** Makes a backup by SQLite's own copying, looks it through, and only then gives it its name. `now` is UTC. */
export async function makeBackup(file: string, now: string, why: BackupFile['why']): Promise<BackupFile> {
  const folder = folderOf(file)
  mkdirSync(folder, { recursive: true })
  const name = `${basename(file)}.${now.slice(0, 19).replaceAll(':', '-')}.${why}`
  const unfinished = join(folder, `${name}.unfinished`)
  rmSync(unfinished, { force: true })
  const source = new Database(file, { readonly: true })
  try {
    await source.backup(unfinished)
  } finally {
    source.close()
  }
  standAlone(unfinished)
  const fault = faultOf(unfinished)
  if (fault !== null) throw new Error(`The backup failed its check: ${fault}`)
  renameSync(unfinished, join(folder, name))
  const made = listBackups(file).find((backup) => backup.name === name)
  if (!made) throw new Error(`The backup ${name} is not where it was put`)
  return made
}

/** A backup is one file: without a write-ahead log beside it, however it is opened. */
function standAlone(path: string): void {
  const copy = new Database(path)
  try {
    copy.pragma('journal_mode = delete')
  } finally {
    copy.close()
  }
}

/** What is wrong with a copy of books; null when it is whole. */
export function faultOf(path: string): string | null {
  try {
    const copy = new Database(path, { readonly: true })
    try {
      const answer = copy.pragma('integrity_check', { simple: true })
      const steps = copy.prepare('select count(*) as count from kysely_migration').get()
      if (steps === undefined) return 'it holds no books'
      return answer === 'ok' ? null : String(answer)
    } finally {
      copy.close()
    }
  } catch (error) {
    return error instanceof Error ? error.message : String(error)
  }
}

export function pathOfBackup(file: string, name: string): string | null {
  return listBackups(file).some((backup) => backup.name === name) ? join(folderOf(file), name) : null
}

export function removeBackup(file: string, name: string): void {
  const path = pathOfBackup(file, name)
  if (path !== null) rmSync(path, { force: true })
}

/**
 * True when another program has these books open: only a connection that is alone may take them out of write-ahead mode. A file that
 * is no books at all is open nowhere; whoever opens it finds out.
 */
export function isOpenElsewhere(file: string): boolean {
  if (!existsSync(file)) return false
  const books = new Database(file, { timeout: 0 })
  try {
    return books.pragma('journal_mode = delete', { simple: true }) === 'wal'
  } catch (error) {
    return error instanceof Error && 'code' in error && String(error.code).startsWith('SQLITE_BUSY')
  } finally {
    books.close()
  }
}

const waitingNote = (file: string): string => `${file}.put-back`

/** Writes down that a backup is to be put back when the books are opened next: open books cannot be changed under the hands of others. */
export function askToPutBack(file: string, name: string): void {
  writeFileSync(waitingNote(file), name)
}

export function nameToPutBack(file: string): string | null {
  return existsSync(waitingNote(file)) ? readFileSync(waitingNote(file), 'utf8').trim() : null
}

export function forgetToPutBack(file: string): void {
  rmSync(waitingNote(file), { force: true })
}

/**
 * Puts back the backup that was asked for, while the books are closed: the present state is saved first, as a backup of its own. Returns the
 * sentence for the log; null when nothing was asked.
 */
export async function putBackWhenAsked(file: string, now: string): Promise<string | null> {
  const name = nameToPutBack(file)
  if (name === null) return null
  if (isOpenElsewhere(file))
    return `Another Penstock has the books open; the backup ${name} is put back at the next opening.`
  forgetToPutBack(file)
  const path = pathOfBackup(file, name)
  if (path === null) return `The backup ${name} is gone; the books were left as they are.`
  const fault = faultOf(path)
  if (fault !== null) return `The backup ${name} is damaged (${fault}); the books were left as they are.`
  const saved = existsSync(file) ? await makeBackup(file, now, 'before-putting-back') : null
  for (const ending of ['-wal', '-shm']) rmSync(`${file}${ending}`, { force: true })
  copyFileSync(path, `${file}.new`)
  renameSync(`${file}.new`, file)
  return `The backup ${name} was put back${saved === null ? '' : `; the state before it is kept as ${saved.name}`}.`
}
