// Runs after electron-builder has put a package together and before it is signed: turns off what a finished program needs no more.
import { join } from 'node:path'
import { FuseV1Options, FuseVersion, flipFuses } from '@electron/fuses'

/** The program can then be no Node, take no options of Node, and run only what lies in its own archive, unchanged. */
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

/** The program's own file in what was packed. */
export function executableIn(folder, platform, name) {
  if (platform === 'darwin' || platform === 'mas') return join(folder, `${name}.app`)
  return join(folder, platform === 'win32' ? `${name}.exe` : name)
}

/** electron-builder's afterPack hook. On Apple processors a changed file needs a new plain signature to start at all. */
export default async function flipAfterPack({ appOutDir, electronPlatformName, packager, arch }) {
  const name = electronPlatformName === 'linux' ? packager.executableName : packager.appInfo.productFilename
  const ARM64 = 3
  await flipFuses(executableIn(appOutDir, electronPlatformName, name), {
    ...FUSES,
    resetAdHocDarwinSignature: electronPlatformName === 'darwin' && arch === ARM64,
  })
}
