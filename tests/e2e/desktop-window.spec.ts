import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { _electron, test as base, type ElectronApplication, expect, type Page } from '@playwright/test'
import { buildWhenStale } from '../../electron/start/build-when-stale.ts'
import { electronRuntime } from '../../electron/start/electron-runtime.ts'

/** Electron's own window, with the settings it ships with. Without the runtime there is nothing here to run, and npm test says so. */
const root = fileURLToPath(new URL('../..', import.meta.url))
const runtime = electronRuntime(root, process.env)
const asRoot = process.getuid?.() === 0 ? ['--no-sandbox'] : []

const test = base.extend<{ program: ElectronApplication; desk: Page }>({
  program: async ({ browserName }, use) => {
    expect(browserName).toBe('chromium')
    const data = mkdtempSync(join(tmpdir(), 'penstock-desktop-'))
    await buildWhenStale(root, 'shell')
    const environment = { ...process.env, XDG_DATA_HOME: data, LOCALAPPDATA: data, HOME: data }
    const program = await _electron.launch({ executablePath: runtime ?? '', args: [...asRoot, root], env: environment })
    await use(program)
    await program.close()
    rmSync(data, { recursive: true, force: true })
  },
  desk: async ({ program }, use) => use(await program.firstWindow()),
})

if (runtime) {
  test('the desktop window opens at home and shows the first page', async ({ desk }) => {
    await expect(desk.locator('#penstock')).not.toBeEmpty()
    expect(desk.url()).toMatch(/^penstock:\/\/office\//)
  })

  test('the desktop window has no Node, goes nowhere and opens nothing', async ({ program, desk }) => {
    expect(await desk.evaluate(() => ['require', 'process', 'module'].filter((name) => name in globalThis))).toEqual([])
    await desk.evaluate(() => {
      location.href = 'https://example.com/?penstock://office/'
    })
    await desk.evaluate(() => window.open('penstock://office/due'))
    await expect.poll(() => program.windows().length).toBe(1)
    expect(desk.url()).toMatch(/^penstock:\/\/office\//)
    expect(
      await desk.evaluate(() =>
        fetch('https://example.com/').then(
          () => 'reached',
          () => 'refused',
        ),
      ),
    ).toBe('refused')
  })
}
