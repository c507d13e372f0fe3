// Installs what package-lock.json says, once, and remembers it. Uses nothing but Node itself: it runs before anything is installed.
import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'

const TRIES = 3
/** What npm prints when the registry, and not our lock, is at fault. A version that exists can be missing for a moment (ETARGET). */
const REGISTRY_FAULT =
  /\b(ETARGET|E404|E429|E5\d\d|ECONNRESET|ECONNREFUSED|ENOTFOUND|EAI_AGAIN|ETIMEDOUT|ERR_SOCKET_TIMEOUT|EINTEGRITY|EIDLETIMEOUT|FETCH_ERROR)\b|network|socket hang up/i

const stampFile = (root) => join(root, 'node_modules', '.penstock-set-up')

/** What an installation rests on: the lock, and the machine it was made for. */
export function lockStamp(root) {
  const lock = readFileSync(join(root, 'package-lock.json'))
  return `${createHash('sha256').update(lock).digest('hex')} ${process.platform} ${process.arch}`
}

function readJson(file) {
  try {
    return JSON.parse(readFileSync(file, 'utf8'))
  } catch {
    return undefined
  }
}

/** True when npm's own note of what it installed says the same as the lock: an install made by hand counts too. */
export function installedMatchesLock(lock, installed) {
  if (!lock?.packages || !installed?.packages) return false
  for (const [path, wanted] of Object.entries(lock.packages)) {
    if (path === '' || wanted.link) continue
    const found = installed.packages[path]
    if (!found && (wanted.optional || wanted.devOptional || wanted.peer)) continue
    if (found?.version !== wanted.version) return false
  }
  return true
}

/** True when nothing needs to be installed. */
export function isSetUp(root) {
  if (!existsSync(join(root, 'node_modules'))) return false
  const stamp = lockStamp(root)
  if (existsSync(stampFile(root)) && readFileSync(stampFile(root), 'utf8') === stamp) return true
  const lock = readJson(join(root, 'package-lock.json'))
  if (!installedMatchesLock(lock, readJson(join(root, 'node_modules', '.package-lock.json')))) return false
  writeFileSync(stampFile(root), stamp)
  return true
}

/** npm's own script, run with this Node; beside the npm that started us, or beside this Node. */
function npmCommand() {
  const bin = dirname(process.execPath)
  const places = [
    process.env.npm_execpath,
    join(bin, '..', 'lib', 'node_modules', 'npm', 'bin', 'npm-cli.js'),
    join(bin, 'node_modules', 'npm', 'bin', 'npm-cli.js'),
  ]
  const script = places.find((place) => place && /\.c?js$/.test(place) && existsSync(place))
  return script
    ? { file: process.execPath, before: [script], shell: false }
    : { file: 'npm', before: [], shell: process.platform === 'win32' }
}

/** Runs `npm ci`; answers whether it worked and whether trying again makes sense. */
function installOnce(root) {
  const npm = npmCommand()
  // No package needs its install script: the database ships its binaries, and an older npm would compile it over them.
  const words = [...npm.before, 'ci', '--ignore-scripts', '--include=dev', '--no-audit', '--no-fund']
  const ran = spawnSync(npm.file, words, {
    cwd: root,
    encoding: 'utf8',
    stdio: ['ignore', 'inherit', 'pipe'],
    shell: npm.shell,
    maxBuffer: 1 << 26,
  })
  const said = `${ran.stderr ?? ''}${ran.error?.message ?? ''}`
  if (ran.status !== 0) process.stderr.write(said)
  return { worked: ran.status === 0, worthAnotherTry: REGISTRY_FAULT.test(said) }
}

/** Makes sure that everything the lock names is installed. False, and a sentence on stderr, when it cannot be. */
export function setUp(root) {
  if (isSetUp(root)) return true
  console.log('Installing what Penstock needs. This happens once.')
  for (let attempt = 1; attempt <= TRIES; attempt += 1) {
    const { worked, worthAnotherTry } = installOnce(root)
    if (worked) {
      writeFileSync(stampFile(root), lockStamp(root))
      return true
    }
    if (!worthAnotherTry) break
    if (attempt < TRIES)
      console.log(`The package registry did not answer well; trying again (${attempt + 1} of ${TRIES}).`)
  }
  console.error(
    'The packages could not be installed; what npm said stands above. Check the connection and run this again.',
  )
  return false
}
