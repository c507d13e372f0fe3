import { spawnSync } from 'node:child_process'
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'

const PATIENCE_MS = 240_000

/** The folder of the Electron package; null when it is not installed. Looking does not start a download. */
function electronFolder(root: string): string | null {
  try {
    return dirname(createRequire(join(root, 'package.json')).resolve('electron/package.json'))
  } catch {
    return null
  }
}

/** The runtime's executable, where it is there. */
export function electronRuntime(root: string, environment: NodeJS.ProcessEnv): string | null {
  const folder = electronFolder(root)
  if (!folder || !existsSync(join(folder, 'path.txt'))) return null
  const place = environment.ELECTRON_OVERRIDE_DIST_PATH ?? join(folder, 'dist')
  const file = join(place, readFileSync(join(folder, 'path.txt'), 'utf8'))
  return existsSync(file) ? file : null
}

/** Tries to get the runtime, once an installation and for a few minutes at most; null when that did not work, now or before. */
export function fetchElectronOnce(root: string, environment: NodeJS.ProcessEnv): string | null {
  const folder = electronFolder(root)
  const tried = join(root, 'node_modules', '.penstock-electron-tried')
  if (!folder || existsSync(tried)) return null
  console.log('Getting the window that Penstock opens in (about 110 MB, once).')
  writeFileSync(tried, '')
  spawnSync(process.execPath, [join(folder, 'install.js')], { cwd: root, stdio: 'ignore', timeout: PATIENCE_MS })
  return electronRuntime(root, environment)
}
