// Runs after electron-builder has put a package together and before it is signed: turns off what a finished program needs no more.
import { join } from 'node:path'
import { FuseV1Options, FuseVersion, flipFuses } from '@electron/fuses'

/**
 * The program can then be no Node, take no options of Node, and run only what lies in its own archive, unchanged. The trap handlers
 * of WebAssembly are left as Electron ships them.
 */
export const FUSES = {
  version: FuseVersion.V1,
  [FuseV1Options.RunAsNode]: false,
  [FuseV1Options.EnableCookieEncryption]: true,
  [FuseV1Options.EnableNodeOptionsEnvironmentVariable]: false,
  [FuseV1Options.EnableNodeCliInspectArguments]: false,
  [FuseV1Options.EnableEmbeddedAsarIntegrityValidation]: true,
  [FuseV1Options.OnlyLoadAppFromAsar]: true,
  [FuseV1Options.LoadBrowserProcessSpecificV8Snapshot]: false,
  [FuseV1Options.GrantFileProtocolExtraPrivileges]: false,
}

/**
 * The program's own file in what was packed.
 * @param {string} folder
 * @param {string} platform as electron-builder names it: linux, win32, darwin, mas
 * @param {string} name without an ending
 */
export function executableIn(folder, platform, name) {
  if (platform === 'darwin' || platform === 'mas') return join(folder, `${name}.app`)
  return join(folder, platform === 'win32' ? `${name}.exe` : name)
}

/**
 * electron-builder's afterPack hook. On Apple processors a changed file needs a new plain signature to start at all.
 * @param {{ appOutDir: string, electronPlatformName: string, arch: number, packager: { executableName?: string, appInfo: { productFilename: string } } }} packed
 * @param {typeof flipFuses} flip
 */
export default async function flipAfterPack({ appOutDir, electronPlatformName, packager, arch }, flip = flipFuses) {
  const linuxName = electronPlatformName === 'linux' ? packager.executableName : undefined
  const ARM64 = 3
  await flip(executableIn(appOutDir, electronPlatformName, linuxName ?? packager.appInfo.productFilename), {
    ...FUSES,
    resetAdHocDarwinSignature: electronPlatformName === 'darwin' && arch === ARM64,
  })
}
