import { contextBridge, ipcRenderer } from 'electron'
import { CHANNELS, type DesktopExtras, INPUTS } from './desktop-extras.ts'

/** The desktop as the window sees it. What does not fit its schema never leaves the window. */
const desktop: DesktopExtras = {
  printPaper: async (...input) => ipcRenderer.invoke(CHANNELS.printPaper, ...INPUTS.printPaper.parse(input)),
  savePaper: async (...input) => ipcRenderer.invoke(CHANNELS.savePaper, ...INPUTS.savePaper.parse(input)),
  saveText: async (...input) => ipcRenderer.invoke(CHANNELS.saveText, ...INPUTS.saveText.parse(input)),
  chooseFile: async () => ipcRenderer.invoke(CHANNELS.chooseFile),
  openDataFolder: async () => ipcRenderer.invoke(CHANNELS.openDataFolder),
}

contextBridge.exposeInMainWorld('desktop', desktop)
