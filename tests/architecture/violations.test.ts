import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { cruise, type ICruiseResult } from 'dependency-cruiser'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { HOUSE_RULES } from './house-rules.ts'
import { readSourceTree } from './source-tree.ts'

/**
 * Every rule proved: a small clean house passes all of them, and one deliberate violation at a time is reported under the
 * name of its rule.
 */
const root = fileURLToPath(new URL('../..', import.meta.url))
const rules = createRequire(import.meta.url)('./dependency-rules.cjs')

/** A house as the architecture wants it, small: every role and room once. Each file is its path and its text. */
const CLEAN: Readonly<Record<string, string>> = {
  'package.json': JSON.stringify({
    dependencies: {
      zod: '*',
      kysely: '*',
      pdfkit: '*',
      react: '*',
      'better-sqlite3': '*',
      '@orpc/contract': '*',
      '@orpc/server': '*',
      '@hono/node-server': '*',
    },
    devDependencies: { electron: '*', vitest: '*' },
  }),
  'package-lock.json': '{ "packages": {} }',
  'core/RULES.md': '## Pull\n\n- **PICK-1** A pull list names each lot once.\n',
  'core/units/money.ts': "import { z } from 'zod'\nexport const cents = z.int()\n",
  'core/units/dates.ts': 'export type Day = string\n',
  'core/settings/office-settings.ts':
    "import { cents } from '../units/money.ts'\nexport const settings = { callOut: cents }\n",
  'core/customers/household.ts':
    "import type { Day } from '../units/dates.ts'\nexport interface Household { readonly since: Day }\n",
  'core/visits/visit.ts':
    "import type { Household } from '../customers/household.ts'\nexport interface Visit { readonly at: Household }\n",
  'core/visits/visits-contract.ts': "import { z } from 'zod'\nexport const visits = z.object({})\n",
  'core/visits/visits-answers.ts':
    "import { visits } from './visits-contract.ts'\nexport const visitAnswers = { visits }\n",
  'core/stock/pick-list.ts':
    "import type { Visit } from '../visits/visit.ts'\nexport function pick(visit: Visit) {\n  return Math.round(Number(visit.at.since))\n}\n",
  'core/stock/stock-contract.ts':
    "import { oc } from '@orpc/contract'\nimport { z } from 'zod'\nexport const stock = oc.input(z.object({}))\n",
  'core/stock/stock-store.ts':
    "import { sql } from 'kysely'\nimport type { Books } from '../database/schema.ts'\nexport type Lots = Books\nexport const lots = sql\n",
  'core/stock/stock-answers.ts':
    "import { stock } from './stock-contract.ts'\nimport { lots } from './stock-store.ts'\nexport const answers = { stock, lots }\n",
  'core/stock/pick-list-paper.ts': "import { page } from '../paper/page.ts'\nexport const pickListPaper = page\n",
  'core/stock/count-work.ts': "import { lots } from './stock-store.ts'\nexport const count = lots\n",
  'core/imports/rows.ts': 'export type Row = string\n',
  'core/backups/kept.ts': 'export type Kept = string\n',
  'core/units/spans.ts': "import type { Day } from './dates.ts'\nexport type Span = { readonly from: Day }\n",
  'core/letters/letter.ts': "import type { Visit } from '../visits/visit.ts'\nexport type Letter = Visit\n",
  'core/paper/page.ts': "import PDFDocument from 'pdfkit'\nexport const page = PDFDocument\n",
  'core/database/schema.ts':
    "import type { Visit } from '../visits/visit.ts'\nexport interface Books { readonly visits: Visit }\n",
  'core/database/open-sqlite.ts': "import Database from 'better-sqlite3'\nexport const open = Database\n",
  'core/office.ts': "import { answers } from './stock/stock-answers.ts'\nexport const office = answers\n",
  'migrations/0001-start.ts': "import type { Kysely } from 'kysely'\nexport type Up = Kysely<object>\n",
  'migrations/0002-more.ts': "import type { Kysely } from 'kysely'\nexport type Up = Kysely<object>\n",
  'electron/main/main.ts':
    "import { app } from 'electron'\nimport { office } from '../../core/office.ts'\nexport const main = { app, office }\n",
  'electron/preload/desktop-extras.ts': 'export type DesktopExtras = { readonly print: () => void }\n',
  'electron/preload/preload.ts': "import { ipcRenderer } from 'electron'\nexport const preload = ipcRenderer\n",
  'electron/served/serve.ts': "import { serve } from '@hono/node-server'\nexport const served = serve\n",
  'renderer/stock/PullScreen.tsx':
    "import { useState } from 'react'\nimport { pick } from '../../core/stock/pick-list.ts'\nexport const PullScreen = () => <p>{String([useState, pick])}</p>\n",
  'renderer/stock/StockScreen.tsx':
    "import type { DesktopExtras } from '../../electron/preload/desktop-extras.ts'\nexport const StockScreen = (_: DesktopExtras) => <p>Stock</p>\n",
  'tests/stock/pick-list.test.ts':
    "import { expect, test } from 'vitest'\nimport { pick } from '../../core/stock/pick-list.ts'\ntest('PICK-1 a lot is named once', () => expect(pick).toBeDefined())\n",
}

let house = ''

beforeEach(() => {
  house = mkdtempSync(join(tmpdir(), 'house-'))
  symlinkSync(join(root, 'node_modules'), join(house, 'node_modules'))
  for (const [path, text] of Object.entries(CLEAN)) put(path, text)
})

afterEach(() => rmSync(house, { recursive: true }))

function put(path: string, text: string): void {
  mkdirSync(dirname(join(house, path)), { recursive: true })
  writeFileSync(join(house, path), text)
}

async function brokenArrows(): Promise<string[]> {
  const { forbidden, options } = rules
  const { output } = await cruise(['core', 'electron', 'renderer', 'migrations', 'tests'], {
    ...options,
    baseDir: house,
    ruleSet: { forbidden },
    validate: true,
  })
  const result: ICruiseResult | string = output
  if (typeof result === 'string') throw new Error('dependency-cruiser answered with text')
  return [...new Set(result.summary.violations.map((violation) => violation.rule.name))]
}

const brokenRules = (): string[] =>
  HOUSE_RULES.filter((rule) => rule.complaints(readSourceTree(house)).length > 0).map((rule) => rule.name)

/** rule, file, its text: one deliberate violation each. */
const ARROWS: readonly (readonly [string, string, string])[] = [
  ['units-looks-only-left', 'core/units/money.ts', "export type { Household } from '../customers/household.ts'\n"],
  ['settings-looks-only-left', 'core/settings/notes.ts', "export type { Visit } from '../visits/visit.ts'\n"],
  ['water-looks-only-left', 'core/water/hardness.ts', "export type { Household } from '../customers/household.ts'\n"],
  [
    'customers-looks-only-left',
    'core/customers/search.ts',
    "import type { Visit } from '../visits/visit.ts'\nexport type Found = Visit\n",
  ],
  [
    'installations-looks-only-left',
    'core/installations/train.ts',
    "import type { Visit } from '../visits/visit.ts'\nexport type Next = Visit\n",
  ],
  [
    'due-looks-only-left',
    'core/due/due.ts',
    "import type { Visit } from '../visits/visit.ts'\nexport type Due = Visit\n",
  ],
  ['visits-looks-only-left', 'core/visits/week.ts', "export { pick } from '../stock/pick-list.ts'\n"],
  ['routes-looks-only-left', 'core/routes/route.ts', "export { pick } from '../stock/pick-list.ts'\n"],
  [
    'stock-looks-only-left',
    'core/stock/notes.ts',
    "import type { Letter } from '../letters/letter.ts'\nexport type Note = Letter\n",
  ],
  [
    'orders-looks-only-left',
    'core/orders/order.ts',
    "import type { Letter } from '../letters/letter.ts'\nexport type Note = Letter\n",
  ],
  ['letters-looks-only-left', 'core/letters/batch.ts', "export type { Row } from '../imports/rows.ts'\n"],
  [
    'invoices-looks-only-left',
    'core/invoices/invoice.ts',
    "import type { Letter } from '../letters/letter.ts'\nexport type Note = Letter\n",
  ],
  [
    'imports-looks-only-left',
    'core/imports/rows.ts',
    "export type { Kept } from '../backups/kept.ts'\nexport type Row = string\n",
  ],
  ['desk-looks-only-left', 'core/desk/desk.ts', "export type { Row } from '../imports/rows.ts'\n"],
  [
    'backups-looks-only-left',
    'core/backups/kept.ts',
    "import type { Row } from '../imports/rows.ts'\nexport type Kept = Row\n",
  ],
  [
    'pure-imports-only-pure',
    'core/stock/pick-list.ts',
    "import { readFileSync } from 'node:fs'\nexport const pick = readFileSync\n",
  ],
  [
    'pure-has-no-role-files',
    'core/stock/pick-list.ts',
    "import type { Lots } from './stock-store.ts'\nexport const pick = (lots: Lots) => lots\n",
  ],
  ['contract-imports-only-pure', 'core/stock/stock-contract.ts', "export { os as stock } from '@orpc/server'\n"],
  ['contract-has-no-role-files', 'core/stock/stock-contract.ts', "export { lots as stock } from './stock-store.ts'\n"],
  ['store-imports-no-answers', 'core/stock/bins-store.ts', "export { answers } from './stock-answers.ts'\n"],
  [
    'store-knows-of-contracts-only-shapes',
    'core/stock/bins-store.ts',
    "import { stock } from './stock-contract.ts'\nexport const bins = stock\n",
  ],
  ['store-libraries', 'core/stock/stock-store.ts', "export { join as lots } from 'node:path'\n"],
  [
    'paper-imports-only-pure',
    'core/stock/pick-list-paper.ts',
    "export { answers as pickListPaper } from './stock-answers.ts'\n",
  ],
  [
    'answers-stay-in-their-folder',
    'core/stock/stock-answers.ts',
    "export { visits as answers } from '../visits/visits-contract.ts'\n",
  ],
  [
    'pure-knows-of-contracts-only-shapes',
    'core/stock/pick-list.ts',
    "import { stock } from './stock-contract.ts'\nexport const pick = stock\n",
  ],
  [
    'paper-knows-of-its-data-only-shapes',
    'core/stock/pick-list-paper.ts',
    "import { lots } from './stock-store.ts'\nexport const pickListPaper = lots\n",
  ],
  [
    'the-day-asks-the-office',
    'electron/day/write-day.ts',
    "import { lots } from '../../core/stock/stock-store.ts'\nexport const day = lots\n",
  ],
  ['work-knows-no-assembly', 'core/stock/count-work.ts', "export { office } from '../office.ts'\n"],
  ['only-the-door-gathers', 'core/stock/everything.ts', "export { answers } from './stock-answers.ts'\n"],
  [
    'paper-room-knows-no-job',
    'core/paper/page.ts',
    "export type { Letter } from '../letters/letter.ts'\nexport const page = 1\n",
  ],
  [
    'database-room-knows-no-job',
    'core/database/schema.ts',
    "export { pick } from '../stock/pick-list.ts'\nexport interface Books { readonly a: 1 }\n",
  ],
  [
    'database-room-has-no-role-files',
    'core/database/open-sqlite.ts',
    "export type { Lots } from '../stock/stock-store.ts'\n",
  ],
  ['database-knows-no-window', 'core/database/open-sqlite.ts', "export { main } from '../../electron/main/main.ts'\n"],
  ['sql-lives-in-stores', 'core/stock/stock-answers.ts', "import { sql } from 'kysely'\nexport const answers = sql\n"],
  [
    'drivers-live-in-the-database-room',
    'core/stock/stock-store.ts',
    "import Database from 'better-sqlite3'\nexport const lots = Database\nexport type Lots = 1\n",
  ],
  [
    'pdfkit-lives-in-the-paper-room',
    'core/stock/pick-list-paper.ts',
    "import PDFDocument from 'pdfkit'\nexport const pickListPaper = PDFDocument\n",
  ],
  [
    'migrations-are-frozen',
    'migrations/0001-start.ts',
    "import { cents } from '../core/units/money.ts'\nexport const up = cents\n",
  ],
  ['migrations-stand-alone', 'migrations/0002-more.ts', "export type { Up } from './0001-start.ts'\n"],
  [
    'core-imports-no-house',
    'core/office.ts',
    "export type { DesktopExtras } from '../electron/preload/desktop-extras.ts'\n",
  ],
  [
    'renderer-sees-only-core-pure-and-contract',
    'renderer/stock/PullScreen.tsx',
    "import type { Lots } from '../../core/stock/stock-store.ts'\nexport const PullScreen = (_: Lots) => <p>Pull</p>\n",
  ],
  [
    'renderer-sees-of-the-shell-only-the-desktop-extras',
    'renderer/stock/PullScreen.tsx',
    "export { served } from '../../electron/served/serve.ts'\n",
  ],
  ['renderer-has-no-node', 'renderer/stock/PullScreen.tsx', "export { join } from 'node:path'\n"],
  ['renderer-has-no-server-library', 'renderer/stock/PullScreen.tsx', "export { os } from '@orpc/server'\n"],
  [
    'screens-do-not-import-screens',
    'renderer/stock/PullScreen.tsx',
    "export { StockScreen as PullScreen } from './StockScreen.tsx'\n",
  ],
  ['react-lives-in-the-renderer', 'core/stock/pick-list.ts', "export { useState as pick } from 'react'\n"],
  [
    'electron-knows-core-by-its-office',
    'electron/main/main.ts',
    "export { lots } from '../../core/stock/stock-store.ts'\n",
  ],
  [
    'electron-imports-no-renderer',
    'electron/main/main.ts',
    "export { PullScreen } from '../../renderer/stock/PullScreen.tsx'\n",
  ],
  ['electron-lives-in-main-and-preload', 'electron/served/serve.ts', "export { app } from 'electron'\n"],
  ['preload-is-thin', 'electron/preload/preload.ts', "export { readFileSync } from 'node:fs'\n"],
  ['main-and-served-are-apart', 'electron/main/main.ts', "export { served } from '../served/serve.ts'\n"],
  ['the-socket-lives-in-the-served-office', 'electron/main/main.ts', "export { serve } from '@hono/node-server'\n"],
  ['no-cycles', 'core/units/dates.ts', "import type { Span } from './spans.ts'\nexport type Day = Span\n"],
  ['nothing-unresolved', 'core/units/dates.ts', "export type { Month } from './months.ts'\n"],
  ['no-development-packages', 'electron/served/serve.ts', "export { test } from 'vitest'\n"],
  ['no-undeclared-packages', 'electron/served/serve.ts', "export { Hono } from 'hono'\n"],
]

describe('import rules', () => {
  test('a clean house has nothing to complain of', async () => {
    expect(await brokenArrows()).toEqual([])
  })

  test('every rule has its violation here', () => {
    const names: string[] = rules.forbidden.map((rule: { name: string }) => rule.name)
    expect(ARROWS.map(([name]) => name).toSorted()).toEqual(names.toSorted())
  })

  test.each(ARROWS)('%s is reported', async (name, path, text) => {
    put(path, text)
    expect(await brokenArrows()).toContain(name)
  })
})

const many = (line: string, times: number): string => `${line}\n`.repeat(times)

const HOUSE: readonly (readonly [string, string, string])[] = [
  [
    'pure code takes the world as arguments',
    'core/stock/pick-list.ts',
    'export const pick = () => setTimeout(() => 1)\n',
  ],
  ['no chance in core', 'core/stock/pick-list.ts', "export const pick = () => Math['random']()\n"],
  [
    'no chance in core',
    'core/stock/stock-store.ts',
    'const { random } = Math\nexport const lots = random\nexport type Lots = 1\n',
  ],
  ['no clock in core but the one handed in', 'core/stock/stock-answers.ts', 'export const answers = new Date()\n'],
  ['no clock in core but the one handed in', 'core/stock/pick-list.ts', 'export const pick = Date.now\n'],
  [
    'a type is imported by an import line, where import rules see it',
    'core/units/money.ts',
    "export type M = import('./dates.ts').Day\n",
  ],
  [
    'nothing is called utils, helpers, common, misc, manager, service or app',
    'core/stock/bin-utils.ts',
    'export const a = 1\n',
  ],
  [
    'nothing is called utils, helpers, common, misc, manager, service or app',
    'renderer/stock/StockManager.tsx',
    'export const a = 1\n',
  ],
  [
    'nothing is called utils, helpers, common, misc, manager, service or app',
    'core/common/cents.ts',
    'export const a = 1\n',
  ],
  ['a folder of core has its place in the order', 'core/elsewhere/thing.ts', 'export const a = 1\n'],
  [
    'a file has at most 400 lines besides its tables of data',
    'core/stock/pick-list.ts',
    many('export const a = 1', 401),
  ],
  [
    'a function has at most 60 lines besides its tables of data',
    'core/stock/pick-list.ts',
    `export function pick() {\n${many('  pick()', 60)}}\n`,
  ],
  ['no check is silenced in place', 'core/stock/pick-list.ts', `// @ts-${'ignore'}\nexport const pick = 1\n`],
  ['every rule is quoted by a test', 'core/RULES.md', '- **PICK-1** One.\n- **PICK-2** Two.\n'],
  [
    'every quoted rule is written',
    'tests/stock/pick-list.test.ts',
    "import { pick } from '../../core/stock/pick-list.ts'\ntest('PICK-9 nothing', () => pick)\n",
  ],
  ['a rule is written once', 'core/RULES.md', '- **PICK-1** One.\n- **PICK-1** One again.\n'],
  [
    'a test lies in the folder it speaks of',
    'tests/letters/pick-list.test.ts',
    "import { pick } from '../../core/stock/pick-list.ts'\nexport { pick }\n",
  ],
  [
    'pure code that does something is reached from a test of its folder',
    'core/stock/bins.ts',
    'export function bins() {}\n',
  ],
  ['every test lies in tests', 'core/stock/pick-list.test.ts', 'export {}\n'],
  [
    'the lock names no registry',
    'package-lock.json',
    '{ "packages": { "a": { "resolved": "https://example.com/a.tgz" } } }',
  ],
]

describe('house rules', () => {
  test('a clean house has nothing to complain of', () => {
    expect(brokenRules()).toEqual([])
  })

  test('every rule has its violation here', () => {
    const proved = new Set([...HOUSE.map(([name]) => name), 'a type is forced at one boundary at most'])
    expect(HOUSE_RULES.filter((rule) => !proved.has(rule.name))).toEqual([])
  })

  test.each(HOUSE)('%s: %s', (name, path, text) => {
    put(path, text)
    expect(brokenRules()).toContain(name)
  })

  test('a type is forced at one boundary at most', () => {
    put('electron/main/one.ts', `export const a = 1${' as unknown' + ' as string'}\n`)
    expect(brokenRules()).toEqual([])
    put('electron/main/two.ts', `export const b = 1${' as unknown' + ' as string'}\n`)
    expect(brokenRules()).toContain('a type is forced at one boundary at most')
  })
})
