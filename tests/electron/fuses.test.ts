import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { FuseState, FuseV1Options, FuseVersion, type flipFuses, getCurrentFuseWire } from '@electron/fuses'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import flipAfterPack, { executableIn, FUSES } from '../../electron/pack/flip-fuses.mjs'
import { fakeProgram, wirePlace } from './fake-program.ts'

/**
 * The list and what each fuse should be: Electron's own documentation (docs/tutorial/fuses.md and item 19 of security.md), the names
 * as in its fuse schema of version 1. What is not named here is left as Electron ships it.
 */
const WANTED = {
  run_as_node: [FuseV1Options.RunAsNode, false],
  cookie_encryption: [FuseV1Options.EnableCookieEncryption, true],
  node_options: [FuseV1Options.EnableNodeOptionsEnvironmentVariable, false],
  node_cli_inspect: [FuseV1Options.EnableNodeCliInspectArguments, false],
  embedded_asar_integrity_validation: [FuseV1Options.EnableEmbeddedAsarIntegrityValidation, true],
  only_load_app_from_asar: [FuseV1Options.OnlyLoadAppFromAsar, true],
  load_browser_process_specific_v8_snapshot: [FuseV1Options.LoadBrowserProcessSpecificV8Snapshot, false],
  grant_file_protocol_extra_privileges: [FuseV1Options.GrantFileProtocolExtraPrivileges, false],
} as const
const AS_SHIPPED = { wasm_trap_handlers: FuseV1Options.WasmTrapHandlers } as const
/** As a new Electron leaves its makers (the same page): fuses in the order of the schema. */
const DEFAULTS = [true, false, true, true, false, false, false, true, true]

let folder = ''
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'penstock packed '))
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

function put(file: string, program: Buffer): string {
  mkdirSync(dirname(file), { recursive: true })
  writeFileSync(file, program)
  return file
}

const packed = (electronPlatformName: string, arch = 1) => ({
  appOutDir: folder,
  electronPlatformName,
  arch,
  packager: { executableName: 'penstock', appInfo: { productFilename: 'Penstock' } },
})
const FRAMEWORK = 'Penstock.app/Contents/Frameworks/Electron Framework.framework/Electron Framework'

describe('the fuses', () => {
  test.each(Object.entries(WANTED))('%s is set as it should be', (_name, [fuse, on]) => {
    expect(FUSES[fuse]).toBe(on)
  })

  test('no fuse that the tool knows is forgotten', () => {
    const known = Object.values(FuseV1Options).filter((value) => typeof value === 'number')
    const decided = [...Object.values(WANTED).map(([fuse]) => fuse), ...Object.values(AS_SHIPPED)]
    expect(decided.toSorted((a, b) => a - b)).toEqual(known)
    expect(FUSES.version).toBe(FuseVersion.V1)
  })

  test.each([
    ['linux', 'penstock'],
    ['win32', 'Penstock.exe'],
    ['darwin', FRAMEWORK],
    ['mas', FRAMEWORK],
  ])('are flipped in what was packed for %s, and the rest of the file stays', async (platform, file) => {
    const program = fakeProgram(DEFAULTS)
    const path = put(join(folder, file), program)
    await flipAfterPack(packed(platform))
    const wire: Readonly<Record<string, unknown>> = await getCurrentFuseWire(
      executableIn(folder, platform, nameFor(platform)),
    )
    for (const [name, [fuse, on]] of Object.entries(WANTED))
      expect([name, wire[fuse]]).toEqual([name, on ? FuseState.ENABLE : FuseState.DISABLE])
    expect(wire[AS_SHIPPED.wasm_trap_handlers]).toBe(FuseState.ENABLE)
    const after = readFileSync(path)
    const wireAt = wirePlace(program)
    expect(after.subarray(0, wireAt)).toEqual(program.subarray(0, wireAt))
    expect(after.subarray(wireAt + DEFAULTS.length)).toEqual(program.subarray(wireAt + DEFAULTS.length))
  })

  test('a program of two processors has both its wires flipped', async () => {
    const both = Buffer.concat([fakeProgram(DEFAULTS), fakeProgram(DEFAULTS)])
    const path = put(join(folder, FRAMEWORK), both)
    await flipAfterPack(packed('darwin'))
    expect(
      readFileSync(path)
        .toString('latin1')
        .match(/010011001/g),
    ).toHaveLength(2)
  })

  test('a program without fuses stops the packing instead of going out unlocked', async () => {
    put(join(folder, 'penstock'), Buffer.from('no fuses in here'))
    await expect(flipAfterPack(packed('linux'))).rejects.toThrow('sentinel')
  })

  test.each([
    ['darwin', 3, true],
    ['darwin', 1, false],
    ['win32', 3, false],
    ['linux', 3, false],
  ])('on %s, processor %i, a new plain signature: %s', async (platform, arch, signs) => {
    const flipped: { path: string; signs: boolean | undefined }[] = []
    const flip: typeof flipFuses = async (path, fuses) => {
      flipped.push({ path, signs: fuses.resetAdHocDarwinSignature })
      return 1
    }
    await flipAfterPack(packed(platform, arch), flip)
    expect(flipped).toEqual([{ path: executableIn(folder, platform, nameFor(platform)), signs }])
  })
})

function nameFor(platform: string): string {
  return platform === 'linux' ? 'penstock' : 'Penstock'
}
