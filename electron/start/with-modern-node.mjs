// The way in for every command of package.json. Uses nothing but Node itself, so that it runs before anything is installed
// and on a Node too old for the rest: it then fetches a modern one and runs itself again under that.
import { spawn, spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { delimiter, dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { setUp } from './set-up.mjs'

/** The first Node that runs TypeScript as it stands. */
const OLDEST = [22, 18]
const FETCHED = '24.21.0'

const STEPS = {
  start: 'electron/start/open-office.ts',
  test: 'electron/start/run-tests.ts',
  day: 'electron/day/write-day.ts',
  bench: 'tests/bench/run-bench.ts',
}

/** A night's ten thousand letters are drawn one after the other: a small heap is tidied often instead of growing with their number. */
const SMALL_HEAP = ['--max-semi-space-size=4', '--max-old-space-size=160']
const HEAPS = { day: SMALL_HEAP }

const here = fileURLToPath(import.meta.url)
const root = join(dirname(here), '..', '..')

/** True when `version` (`v22.18.0`) is at least the oldest Node that will do. */
export function isModern(version) {
  const [major = 0, minor = 0] = version.replace(/^v/, '').split('.').map(Number)
  return major > OLDEST[0] || (major === OLDEST[0] && minor >= OLDEST[1])
}

/** npm's own script for `npx`, beside the npm that started us or beside this Node; undefined when neither is there. */
function npxScript() {
  const besideNpm = process.env.npm_execpath && join(dirname(process.env.npm_execpath), 'npx-cli.js')
  const bin = dirname(process.execPath)
  const places = [
    besideNpm,
    join(bin, '..', 'lib', 'node_modules', 'npm', 'bin', 'npx-cli.js'),
    join(bin, 'node_modules', 'npm', 'bin', 'npx-cli.js'),
    '/usr/share/nodejs/npm/bin/npx-cli.js',
  ]
  return places.find((place) => place && existsSync(place))
}

/** The path of a modern Node fetched through npx. Only plain words go through npx: our own arguments may hold spaces. */
function fetchModernNode() {
  const question = ['-y', `node@${FETCHED}`, '-p', 'process.execPath']
  const script = npxScript()
  const options = { encoding: 'utf8', stdio: ['ignore', 'pipe', 'inherit'], cwd: root }
  for (let attempt = 1; attempt <= 3; attempt += 1) {
    const answer = script
      ? spawnSync(process.execPath, [script, ...question], options)
      : spawnSync('npx', question, { ...options, shell: process.platform === 'win32' })
    const path = answer.stdout?.trim().split('\n').at(-1)?.trim()
    if (answer.status === 0 && path && existsSync(path)) return path
  }
  return undefined
}

/**
 * npm passes being told to end only to the shell between it and us, and that one keeps it to itself: once it is gone, whoever started
 * us is gone, and nothing may stay behind that holds the books.
 */
function endWithParent(child) {
  if (!process.env.npm_lifecycle_event) return
  const parent = process.ppid
  const look = setInterval(() => {
    if (process.ppid !== parent) child.kill('SIGTERM')
  }, 500)
  child.once('exit', () => clearInterval(look))
}

/**
 * Runs a Node and answers with its exit status. Being told to end is passed on, so that nothing stays behind; Ctrl+C reaches the
 * other process by itself, and this one waits for it.
 */
function run(node, words, environment = process.env) {
  return new Promise((resolve) => {
    const child = spawn(node, words, { stdio: 'inherit', env: environment })
    for (const signal of ['SIGTERM', 'SIGHUP']) process.on(signal, () => child.kill(signal))
    process.on('SIGINT', () => {})
    endWithParent(child)
    child.once('error', (error) => {
      console.error(error.message)
      resolve(1)
    })
    child.once('exit', (code) => resolve(code ?? 1))
  })
}

async function runUnderModernNode(words) {
  console.log(`Node ${process.version} is too old for Penstock; getting Node ${FETCHED} for this run.`)
  const node = fetchModernNode()
  if (node) return run(node, [here, ...words])
  console.error(`Node ${FETCHED} could not be fetched. Install Node ${OLDEST.join('.')} or newer and run this again.`)
  return 1
}

function runStep(step, words) {
  const path = [dirname(process.execPath), process.env.PATH].join(delimiter)
  const quiet = '--disable-warning=ExperimentalWarning'
  return run(process.execPath, [quiet, ...(HEAPS[step] ?? []), join(root, STEPS[step]), ...words], {
    // What Node made of the sources is kept, so that the next start, and every thread, has it at once.
    NODE_COMPILE_CACHE: join(root, 'node_modules', '.cache', 'compiled'),
    ...process.env,
    PATH: path,
  })
}

async function main([step, ...words]) {
  if (!step || !Object.hasOwn(STEPS, step)) {
    console.error(`Say what to do: ${Object.keys(STEPS).join(', ')}.`)
    return 2
  }
  if (!isModern(process.version)) return runUnderModernNode([step, ...words])
  if (!setUp(root)) return 1
  return runStep(step, words)
}

if (process.argv[1] && fileURLToPath(import.meta.url) === process.argv[1])
  process.exitCode = await main(process.argv.slice(2))
