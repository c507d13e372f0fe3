import { spawnSync } from 'node:child_process'
import { mkdirSync, readFileSync, rmSync } from 'node:fs'
import { homedir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { findChromium } from './chromium-places.ts'
import { electronRuntime } from './electron-runtime.ts'
import { countPlaywright, countVitest, sumCounts, type TestCounts } from './test-counts.ts'

// `npm test`: every check and every test, and the true totals on the last line.

const root = fileURLToPath(new URL('../..', import.meta.url))
const reports = join(root, 'dist', 'reports')
const machine = { platform: process.platform, home: homedir(), environment: process.env }
const CHECKS = ['types', 'lint', 'boundaries', 'dead-code']

function npm(words: readonly string[], environment: Readonly<Record<string, string>> = {}): boolean {
  const ran = spawnSync('npm', ['run', '--silent', ...words], {
    cwd: root,
    stdio: ['ignore', 'inherit', 'inherit'],
    env: { ...process.env, ...environment },
    shell: process.platform === 'win32',
  })
  return ran.status === 0
}

function report(name: string): string | null {
  try {
    return readFileSync(join(reports, name), 'utf8')
  } catch {
    return null
  }
}

/** Makes sure there is a Chromium for the end-to-end tests, where one can be had. */
function getChromium(): void {
  if (findChromium(machine)) return
  console.log('Getting Chromium for the end-to-end tests.')
  spawnSync(process.execPath, [join(root, 'node_modules', '@playwright', 'test', 'cli.js'), 'install', 'chromium'], {
    cwd: root,
    stdio: 'inherit',
    timeout: 300_000,
  })
  if (findChromium(machine) || process.platform !== 'linux' || process.getuid?.() !== 0) return
  const quiet = {
    stdio: 'inherit',
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
    timeout: 300_000,
  } as const
  spawnSync('apt-get', ['update', '-q'], quiet)
  spawnSync('apt-get', ['install', '-y', '-q', '--no-install-recommends', 'chromium'], quiet)
}

function unitTests(): TestCounts {
  npm(['unit', '--', '--reporter=default', '--reporter=json', `--outputFile.json=${join(reports, 'vitest.json')}`])
  return countVitest(report('vitest.json'))
}

function endToEndTests(): TestCounts {
  if (!findChromium(machine)) {
    console.error(
      'No Chromium could be found or fetched, so the end-to-end tests did not run. That counts as a failure.',
    )
    return { passed: 0, failed: 1 }
  }
  if (!electronRuntime(root, process.env)) {
    console.log("The end-to-end tests in Electron's own window did not run: its runtime is not on this machine.")
  }
  npm(['e2e', '--', '--reporter=list,json'], { PLAYWRIGHT_JSON_OUTPUT_NAME: join(reports, 'playwright.json') })
  return countPlaywright(report('playwright.json'))
}

rmSync(reports, { recursive: true, force: true })
mkdirSync(reports, { recursive: true })
getChromium()
const broken = CHECKS.filter((check) => !npm([check]))
const { passed, failed } = sumCounts([unitTests(), endToEndTests(), { passed: 0, failed: broken.length }])
if (broken.length > 0) console.log(`These checks failed and count among the failures: ${broken.join(', ')}.`)
console.log(`${passed} passed, ${failed} failed`)
process.exitCode = failed === 0 && passed > 0 ? 0 : 1
