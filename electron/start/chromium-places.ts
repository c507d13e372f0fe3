import { existsSync, readdirSync } from 'node:fs'
import { delimiter, join } from 'node:path'
import type { Machine } from '../place/data-place.ts'

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome', 'microsoft-edge']

/** Where a browser built on Chromium may lie on this machine, the likeliest first. */
export function chromiumPlaces({ platform, home, environment }: Machine): string[] {
  const asked = environment.PENSTOCK_CHROMIUM ? [environment.PENSTOCK_CHROMIUM] : []
  if (platform === 'darwin') return [...asked, ...macPlaces(home), ...playwrightPlaces(platform, home, environment)]
  if (platform === 'win32')
    return [...asked, ...windowsPlaces(environment), ...playwrightPlaces(platform, home, environment)]
  const onPath = (environment.PATH ?? '').split(delimiter).flatMap((folder) => NAMES.map((name) => join(folder, name)))
  return [...asked, ...onPath, ...playwrightPlaces(platform, home, environment)]
}

/** The first of them that is there; null when none is. */
export function findChromium(machine: Machine): string | null {
  return chromiumPlaces(machine).find((place) => existsSync(place)) ?? null
}

function macPlaces(home: string): string[] {
  const programs = ['Chromium.app/Contents/MacOS/Chromium', 'Google Chrome.app/Contents/MacOS/Google Chrome']
  return ['/Applications', join(home, 'Applications')].flatMap((folder) => programs.map((name) => join(folder, name)))
}

function windowsPlaces(environment: Machine['environment']): string[] {
  const roots = [environment.PROGRAMFILES, environment['PROGRAMFILES(X86)'], environment.LOCALAPPDATA].flatMap(
    (root) => root ?? [],
  )
  const programs = [
    'Google\\Chrome\\Application\\chrome.exe',
    'Chromium\\Application\\chrome.exe',
    'Microsoft\\Edge\\Application\\msedge.exe',
  ]
  return roots.flatMap((root) => programs.map((name) => join(root, name)))
}

/** What `playwright install chromium` leaves behind. */
function playwrightPlaces(platform: NodeJS.Platform, home: string, environment: Machine['environment']): string[] {
  const usual = { darwin: join(home, 'Library', 'Caches'), win32: environment.LOCALAPPDATA ?? home }
  const caches = platform === 'darwin' || platform === 'win32' ? usual[platform] : join(home, '.cache')
  const cache = environment.PLAYWRIGHT_BROWSERS_PATH ?? join(caches, 'ms-playwright')
  if (!existsSync(cache)) return []
  const inside = [
    'chrome-linux64/chrome',
    'chrome-linux/chrome',
    'chrome-win64/chrome.exe',
    'chrome-win/chrome.exe',
    'chrome-mac/Chromium.app/Contents/MacOS/Chromium',
  ]
  const folders = readdirSync(cache).filter((name) => /^chromium-\d+$/.test(name))
  return folders.flatMap((folder) => inside.map((file) => join(cache, folder, file)))
}
