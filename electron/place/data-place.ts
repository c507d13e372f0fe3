import { join, posix, win32 } from 'node:path'

/** What deciding needs to know of the machine. */
export interface Machine {
  readonly platform: NodeJS.Platform
  readonly home: string
  readonly environment: Readonly<Record<string, string | undefined>>
}

/** The folder of the user's own where Penstock keeps its books, its log and its window's memory. */
export function dataFolder({ platform, home, environment }: Machine): string {
  if (platform === 'win32')
    return win32.join(environment.LOCALAPPDATA ?? win32.join(home, 'AppData', 'Local'), 'Penstock')
  if (platform === 'darwin') return posix.join(home, 'Library', 'Application Support', 'Penstock')
  const given = environment.XDG_DATA_HOME
  // The XDG base directory specification: a path that is not absolute is to be ignored.
  return posix.join(given?.startsWith('/') ? given : posix.join(home, '.local', 'share'), 'penstock')
}

/** Where the books are: the file asked for, else the firm's database server, else `books.sqlite` in the user's own folder. */
export function booksAddress(machine: Machine, asked: string | null): string {
  return asked ?? machine.environment.DATABASE_URL ?? join(dataFolder(machine), 'books.sqlite')
}
