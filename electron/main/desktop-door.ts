import { createWriteStream } from 'node:fs'
import { readFile, rename, rm, stat, writeFile } from 'node:fs/promises'
import { basename, extname, join } from 'node:path'
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import type { BrowserWindow, Dialog, IpcMain, IpcMainInvokeEvent, Shell } from 'electron'
import type { AnsweringOffice } from '../page/answer-request.ts'
import { CHANNELS, type ChosenFile, type DesktopExtras, INPUTS, type PrintedPaper } from '../preload/desktop-extras.ts'
import type { PaperFolder } from './paper-folder.ts'
import { HOME, isOurs } from './window-hardening.ts'

export interface DesktopDoor {
  readonly ipcMain: IpcMain
  readonly dialog: Dialog
  readonly shell: Shell
  readonly office: AnsweringOffice
  readonly window: () => BrowserWindow | null
  readonly dataFolder: string
  readonly log: (line: string) => void
  /** Where pages lie while the machine's reader shows them. */
  readonly papers: PaperFolder
}

const LARGEST_LIST_BYTES = 64 * 1024 * 1024

/** Opens the channels of the desktop extras. Each looks at who speaks and at what is said before it does anything. */
export function openDesktopDoor(door: DesktopDoor): void {
  const answer = <Name extends keyof DesktopExtras>(name: Name, job: DesktopExtras[Name], check: Check<Name>): void => {
    door.ipcMain.handle(CHANNELS[name], async (event, ...input: unknown[]) => {
      if (!isOurPage(event)) throw new Error(`A stranger spoke on ${CHANNELS[name]}`)
      return check(job, input)
    })
  }
  answer(
    'printPaper',
    (address) => printPaper(door, address),
    (job, input) => job(...INPUTS.printPaper.parse(input)),
  )
  answer(
    'savePaper',
    (address, name) => savePaper(door, address, name),
    (job, input) => job(...INPUTS.savePaper.parse(input)),
  )
  answer(
    'saveText',
    (name, text) => saveText(door, name, text),
    (job, input) => job(...INPUTS.saveText.parse(input)),
  )
  answer(
    'chooseFile',
    () => chooseFile(door),
    (job, input) => job(...INPUTS.chooseFile.parse(input)),
  )
  answer(
    'openDataFolder',
    () => openDataFolder(door),
    (job, input) => job(...INPUTS.openDataFolder.parse(input)),
  )
}

type Check<Name extends keyof DesktopExtras> = (job: DesktopExtras[Name], input: unknown[]) => Promise<unknown>

/** The main frame of a page of the office; a frame inside it, or a page gone elsewhere, is a stranger. */
function isOurPage(event: IpcMainInvokeEvent): boolean {
  const frame = event.senderFrame
  return frame !== null && frame === event.sender.mainFrame && isOurs(frame.url)
}

/** The paper's bytes as they are made; null when the office refuses it. */
async function askForPaper(door: DesktopDoor, address: string): Promise<Readable | null> {
  const response = await door.office.handle(new Request(new URL(address, HOME)))
  if (!response.ok || !response.body) return null
  return Readable.fromWeb(response.body)
}

/** A paper is whole or it is not there: it is written beside its place and moved when it is complete. */
async function writeWhole(paper: Readable, file: string): Promise<void> {
  const half = `${file}.part`
  try {
    await pipeline(paper, createWriteStream(half, { mode: 0o600 }))
    await rename(half, file)
  } catch (error) {
    await rm(half, { force: true })
    throw error
  }
}

/** The page is shown by the machine's own reader, from where it is printed. What no reader took does not stay behind. */
async function printPaper(door: DesktopDoor, address: string): Promise<PrintedPaper> {
  const paper = await askForPaper(door, address)
  if (!paper) return 'no-paper'
  const folder = await door.papers.next()
  const file = join(folder, basename(new URL(address, HOME).pathname))
  await writeWhole(paper, file)
  const why = await door.shell.openPath(file)
  if (why === '') return 'opened'
  door.log(`No reader took a page: ${why}`)
  await rm(folder, { recursive: true, force: true })
  return 'no-reader'
}

async function askWhere(door: DesktopDoor, name: string): Promise<string | null> {
  const ending = extname(name).slice(1)
  const options = { defaultPath: name, filters: ending ? [{ name: ending.toUpperCase(), extensions: [ending] }] : [] }
  const window = door.window()
  const { canceled, filePath } = await (window
    ? door.dialog.showSaveDialog(window, options)
    : door.dialog.showSaveDialog(options))
  return canceled || !filePath ? null : filePath
}

async function savePaper(door: DesktopDoor, address: string, name: string): Promise<boolean> {
  const file = await askWhere(door, name)
  if (!file) return false
  const paper = await askForPaper(door, address)
  if (!paper) return false
  await writeWhole(paper, file)
  return true
}

async function saveText(door: DesktopDoor, name: string, text: string): Promise<boolean> {
  const file = await askWhere(door, name)
  if (!file) return false
  await writeFile(file, text, 'utf8')
  return true
}

async function chooseFile(door: DesktopDoor): Promise<ChosenFile | null> {
  const options = { properties: ['openFile' as const], filters: [{ name: 'Lists', extensions: ['csv', 'tsv', 'txt'] }] }
  const window = door.window()
  const { filePaths } = await (window
    ? door.dialog.showOpenDialog(window, options)
    : door.dialog.showOpenDialog(options))
  const [file] = filePaths
  if (!file) return null
  if ((await stat(file)).size > LARGEST_LIST_BYTES) throw new Error('The list is larger than 64 MB')
  return { name: basename(file), bytes: new Uint8Array(await readFile(file)) }
}

async function openDataFolder(door: DesktopDoor): Promise<boolean> {
  return (await door.shell.openPath(door.dataFolder)) === ''
}
