import { z } from 'zod/mini'

/** What became of a page that was to be printed: the machine's reader shows it, no reader took it, or the office has no such page. */
export type PrintedPaper = 'opened' | 'no-reader' | 'no-paper'

/** What the window can have of the desktop besides the office itself, each answered with false when the user thought better of it. */
export interface DesktopExtras {
  /** Opens a paper in the machine's own reader, from where it is printed. */
  readonly printPaper: (address: string) => Promise<PrintedPaper>
  /** Saves a paper where the user says, suggested under `name`. */
  readonly savePaper: (address: string, name: string) => Promise<boolean>
  /** Saves a text (a list as CSV) where the user says, suggested under `name`. */
  readonly saveText: (name: string, text: string) => Promise<boolean>
  /** Lets the user choose a list to import; null when none was chosen. */
  readonly chooseFile: () => Promise<ChosenFile | null>
  /** Shows the folder with the books in the machine's file manager. */
  readonly openDataFolder: () => Promise<boolean>
}

export interface ChosenFile {
  readonly name: string
  readonly bytes: Uint8Array
}

/** The channels between window and main process: these and no others. */
export const CHANNELS = {
  printPaper: 'desktop:print-paper',
  savePaper: 'desktop:save-paper',
  saveText: 'desktop:save-text',
  chooseFile: 'desktop:choose-file',
  openDataFolder: 'desktop:open-data-folder',
} as const satisfies Record<keyof DesktopExtras, string>

/** `/papers/` and words: no host, no way up, no escapes; a query of names and plain values. */
const paperAddress = z
  .string()
  .check(z.maxLength(500), z.regex(/^\/papers(?:\/[A-Za-z0-9_-][A-Za-z0-9_.-]*)+(?:\?[A-Za-z0-9_=&.,%+-]*)?$/))

/** A file name: one line, no folder, at most 120 signs. */
const fileName = z.string().check(
  z.minLength(1),
  z.maxLength(120),
  z.regex(/^[^\\/:*?"<>|\p{Cc}]+$/u),
  z.refine((name) => !/^\.+$/.test(name)),
)

/** What each channel takes, in order; checked in the preload and again in the main process. */
export const INPUTS = {
  printPaper: z.tuple([paperAddress]),
  savePaper: z.tuple([paperAddress, fileName]),
  saveText: z.tuple([fileName, z.string().check(z.maxLength(64_000_000))]),
  chooseFile: z.tuple([]),
  openDataFolder: z.tuple([]),
} as const satisfies Record<keyof DesktopExtras, z.ZodMiniType>
