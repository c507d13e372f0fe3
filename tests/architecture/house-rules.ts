import { posix } from 'node:path'
import order from './folder-order.json' with { type: 'json' }
import { quotedRules, writtenRules } from './rule-book.ts'
import type { SourceFile, SourceTree } from './source-tree.ts'
import { fileLength, functionLengths, parseSource, type SyntaxNode, walk } from './syntax.ts'

/** A rule of the house that import rules and types cannot see. Its complaints name the file. */
export interface HouseRule {
  readonly name: string
  readonly complaints: (tree: SourceTree) => string[]
}

const ROLE = /-(contract|store|answers|paper|work)\.ts$/
const inRoom = (path: string): boolean => order.rooms.some((room) => path.startsWith(`core/${room}/`))
const isDoor = (path: string): boolean =>
  [...order.door, ...order.contractDoor].some((door) => path === `core/${door}.ts`)
const isCode = (file: SourceFile): boolean => /\.tsx?$/.test(file.path) && !file.path.endsWith('.d.ts')
const isCore = (file: SourceFile): boolean => isCode(file) && file.path.startsWith('core/')
const isTest = (file: SourceFile): boolean => file.path.startsWith('tests/')

/** Pure code: what remains of core without roles, rooms and the door. */
export function isPure(file: SourceFile): boolean {
  return isCore(file) && !ROLE.test(file.path) && !inRoom(file.path) && !isDoor(file.path)
}

/** What pure code must not name: the world outside its arguments. */
const WORLD = new Set([
  ...['Date', 'performance', 'crypto', 'process', 'console', 'globalThis'],
  ...['setTimeout', 'setInterval', 'setImmediate', 'queueMicrotask', 'fetch', 'eval', 'Function'],
])

function namedIn(file: SourceFile, names: ReadonlySet<string>): string[] {
  const found: string[] = []
  walk(parseSource(file), (node, _parent, isName) => {
    const value = node.value
    if (node.type === 'Identifier' && !isName && typeof value === 'string' && names.has(value)) found.push(value)
  })
  return [...new Set(found)]
}

/** `Math.random`, also by brackets, and `Math` handed on under another name, where chance could hide. */
function usesChance(file: SourceFile): boolean {
  let found = false
  walk(parseSource(file), (node, parent, isName) => {
    if (node.type !== 'Identifier' || node.value !== 'Math' || isName) return
    found ||= !(parent?.type === 'MemberExpression' && isNamedProperty(parent, (name) => name !== 'random'))
  })
  return found
}

/** Reads the machine's clock: `new Date()`, `Date()`, `Date.now`, `performance`; turning a given instant into a `Date` does not. */
function readsClock(file: SourceFile): boolean {
  let found = false
  walk(parseSource(file), (node, parent, isName) => {
    if (node.type !== 'Identifier' || isName) return
    if (node.value === 'performance') found = true
    if (node.value !== 'Date' || !parent) return
    const givesInstant =
      parent.type === 'NewExpression' && Array.isArray(parent.arguments) && parent.arguments.length > 0
    const calculates = parent.type === 'MemberExpression' && isNamedProperty(parent, (name) => name !== 'now')
    found ||= !(givesInstant || calculates || parent.type === 'TsTypeReference')
  })
  return found
}

function isNamedProperty(member: SyntaxNode, allowed: (name: string) => boolean): boolean {
  const property = member.property
  if (typeof property !== 'object' || property === null || !('type' in property)) return false
  return (
    property.type === 'Identifier' &&
    'value' in property &&
    typeof property.value === 'string' &&
    allowed(property.value)
  )
}

function hasNode(file: SourceFile, type: string): boolean {
  let found = false
  walk(parseSource(file), (node) => {
    found ||= node.type === type
  })
  return found
}

const FORBIDDEN_WORD = /^(utils?|helpers?|common|misc|managers?|services?|app)$/i

/** The last word of a folder or file name: what the thing claims to be. */
function lastWord(name: string): string {
  const stem = name.replace(/\..*$/, '')
  return stem.split(/-|(?<=[a-z])(?=[A-Z])/).at(-1) ?? stem
}

const LONGEST_FILE = 400
const LONGEST_FUNCTION = 60
/** Spelled in two pieces so that this file does not complain about itself. */
const SILENCERS = [
  'biome-' + 'ignore',
  '@ts-' + 'ignore',
  '@ts-' + 'expect-error',
  '@ts-' + 'nocheck',
  'eslint-' + 'disable',
]
const BLINDFOLD = ' as unknown' + ' as '

/** True when a test has the name of a file of its folder, or imports one: `tests/stock/x.test.ts` speaks of `core/stock`. */
function speaksOfItsFolder(tree: SourceTree, test: SourceFile): boolean {
  const folder = test.path
    .replace(/^tests\//, '')
    .split('/')
    .slice(0, -1)
    .join('/')
  const name = test.path.replace(/^.*\//, '').replace(/\.test\.tsx?$/, '')
  const homes = ['core/', 'renderer/', 'electron/', ''].map((home) => `${home}${folder}/`)
  const mirrors = (file: SourceFile): boolean =>
    homes.some((home) => file.path === `${home}${name}.ts` || file.path === `${home}${name}.tsx`)
  return homes.some((home) => test.text.includes(`../${home}`)) || tree.files.some(mirrors)
}

/** Test folders that speak of no single folder: the house as a whole, both databases, the built shell, a person at the screen. */
const WHOLE = /^tests\/(architecture|builders|judges|e2e|bench|data|electron)\//

function exportsFunction(file: SourceFile): boolean {
  return /^export (async )?function /m.test(file.text) || /^export const \w+ = (async )?\(/m.test(file.text)
}

/** The files that a file imports, by their paths from the root. */
function imports(file: SourceFile): string[] {
  return [...file.text.matchAll(/\bfrom '(\.[^']+)'/g)].map((found) =>
    posix.join(posix.dirname(file.path), found[1] ?? ''),
  )
}

/** Everything that the tests of one folder come to, at whatever remove. */
function reachedFrom(tree: SourceTree, folder: string): ReadonlySet<string> {
  const byPath = new Map(tree.files.map((file) => [file.path, file]))
  const reached = new Set<string>()
  const open = tree.files.filter((file) => file.path.startsWith(`tests/${folder}`) && file.path.includes('.test.'))
  for (let file = open.pop(); file !== undefined; file = open.pop()) {
    for (const path of imports(file)) {
      const next = byPath.get(path)
      if (next && !reached.has(path)) {
        reached.add(path)
        open.push(next)
      }
    }
  }
  return reached
}

function unreached(tree: SourceTree): string[] {
  const folderOf = (file: SourceFile): string => file.path.split('/').slice(1, -1).join('/')
  const pure = tree.files.filter((file) => isPure(file) && exportsFunction(file))
  const folders = new Map([...new Set(pure.map(folderOf))].map((folder) => [folder, reachedFrom(tree, folder)]))
  return pure.filter((file) => !folders.get(folderOf(file))?.has(file.path)).map((file) => file.path)
}

export const HOUSE_RULES: readonly HouseRule[] = [
  {
    name: 'pure code takes the world as arguments',
    complaints: (tree) =>
      tree.files.filter(isPure).flatMap((file) => namedIn(file, WORLD).map((name) => `${file.path} names ${name}`)),
  },
  {
    name: 'no chance in core',
    complaints: (tree) =>
      tree.files.filter((file) => isCore(file) && usesChance(file)).map((file) => `${file.path} uses Math.random`),
  },
  {
    name: 'no clock in core but the one handed in',
    complaints: (tree) =>
      tree.files
        .filter((file) => isCore(file) && readsClock(file))
        .map((file) => `${file.path} reads the machine's clock`),
  },
  {
    name: 'a type is imported by an import line, where import rules see it',
    complaints: (tree) =>
      tree.files
        .filter((file) => isCode(file) && hasNode(file, 'TsImportType'))
        .map((file) => `${file.path} imports a type in passing`),
  },
  {
    name: 'nothing is called utils, helpers, common, misc, manager, service or app',
    complaints: (tree) =>
      tree.files
        .filter((file) => file.path.split('/').some((name) => FORBIDDEN_WORD.test(lastWord(name))))
        .map((file) => file.path),
  },
  {
    name: 'a folder of core has its place in the order',
    complaints: (tree) => {
      const known = new Set([...order.jobFolders.flat(), ...order.rooms])
      const folders = tree.files.filter(isCore).flatMap((file) => file.path.match(/^core\/([^/]+)\//)?.[1] ?? [])
      return [...new Set(folders)].filter((folder) => !known.has(folder)).map((folder) => `core/${folder}`)
    },
  },
  {
    name: `a file has at most ${LONGEST_FILE} lines besides its tables of data`,
    complaints: (tree) =>
      tree.files
        .filter((file) => isCode(file) && !file.path.startsWith('migrations/'))
        .flatMap((file) => {
          const lines = file.text.split('\n').length > LONGEST_FILE ? fileLength(file) : 0
          return lines > LONGEST_FILE ? [`${file.path} has ${lines} lines`] : []
        }),
  },
  {
    name: `a function has at most ${LONGEST_FUNCTION} lines besides its tables of data`,
    complaints: (tree) =>
      tree.files
        .filter((file) => isCode(file) && !isTest(file) && !file.path.startsWith('migrations/'))
        .flatMap((file) =>
          functionLengths(file)
            .filter(({ lines }) => lines > LONGEST_FUNCTION)
            .map(({ name, lines }) => `${file.path}: ${name} has ${lines} lines`),
        ),
  },
  {
    name: 'no check is silenced in place',
    complaints: (tree) =>
      tree.files.filter((file) => SILENCERS.some((word) => file.text.includes(word))).map((file) => file.path),
  },
  {
    name: 'a type is forced at one boundary at most',
    complaints: (tree) => {
      const forced = tree.files.filter((file) => isCode(file) && !isTest(file) && file.text.includes(BLINDFOLD))
      return forced.length > 1 ? forced.map((file) => file.path) : []
    },
  },
  {
    name: 'every rule is quoted by a test',
    complaints: (tree) => {
      const quoted = new Set(quotedRules(tree).map(({ id }) => id))
      return writtenRules(tree.ruleBook).filter((id) => !quoted.has(id))
    },
  },
  {
    name: 'every quoted rule is written',
    complaints: (tree) => {
      const written = new Set(writtenRules(tree.ruleBook))
      return quotedRules(tree)
        .filter(({ id }) => !written.has(id))
        .map(({ id, path }) => `${path} quotes ${id}`)
    },
  },
  {
    name: 'a rule is written once',
    complaints: (tree) => writtenRules(tree.ruleBook).filter((id, at, all) => all.indexOf(id) !== at),
  },
  {
    name: 'a test lies in the folder it speaks of',
    complaints: (tree) =>
      tree.files
        .filter((file) => /\.test\.tsx?$/.test(file.path) && !WHOLE.test(file.path) && !speaksOfItsFolder(tree, file))
        .map((file) => file.path),
  },
  {
    name: 'pure code that does something is reached from a test of its folder',
    complaints: unreached,
  },
  {
    name: 'every test lies in tests',
    complaints: (tree) =>
      tree.files.filter((file) => /\.(test|spec)\./.test(file.path) && !isTest(file)).map((file) => file.path),
  },
  {
    name: 'the lock names no registry',
    complaints: (tree) => (tree.lock.includes('"resolved"') ? ['package-lock.json holds addresses'] : []),
  },
]
