import { parseSync } from '@swc/core'
import type { SourceFile } from './source-tree.ts'

/** A node of the syntax tree as far as the rules look at it. */
export interface SyntaxNode {
  readonly type: string
  readonly span?: { readonly start: number; readonly end: number }
  readonly [key: string]: unknown
}

function isNode(value: unknown): value is SyntaxNode {
  return typeof value === 'object' && value !== null && 'type' in value && typeof value.type === 'string'
}

const parsed = new WeakMap<SourceFile, SyntaxNode>()

/** The syntax tree of a TypeScript file, as plain data; parsed once, however many rules look at it. */
export function parseSource(file: SourceFile): SyntaxNode {
  const known = parsed.get(file)
  if (known) return known
  const tree: unknown = parseSync(file.text, { syntax: 'typescript', tsx: file.path.endsWith('x'), target: 'es2022' })
  if (!isNode(tree)) throw new Error(`${file.path} could not be parsed`)
  parsed.set(file, tree)
  return tree
}

/** The nodes directly below `node`, with the key they stand under. */
export function childrenOf(node: SyntaxNode): { readonly key: string; readonly child: SyntaxNode }[] {
  return Object.entries(node).flatMap(([key, value]) => {
    const values: unknown[] = Array.isArray(value) ? value : [value]
    return values.flatMap((one) => {
      if (isNode(one)) return [{ key, child: one }]
      // swc wraps call arguments and array elements as { spread, expression }
      if (typeof one === 'object' && one !== null && 'expression' in one && isNode(one.expression))
        return [{ key, child: one.expression }]
      if (typeof one === 'object' && one !== null && 'pat' in one && isNode(one.pat)) return [{ key, child: one.pat }]
      return []
    })
  })
}

/** Calls `visit` for every node, parents first; `isName` says that an identifier only names a property and refers to nothing. */
export function walk(
  node: SyntaxNode,
  visit: (node: SyntaxNode, parent: SyntaxNode | undefined, isName: boolean) => void,
): void {
  const step = (at: SyntaxNode, parent: SyntaxNode | undefined, key: string): void => {
    const isName =
      key === 'key' ||
      key === 'imported' ||
      (parent?.type === 'MemberExpression' && key === 'property' && at.type === 'Identifier')
    visit(at, parent, isName)
    for (const { key: childKey, child } of childrenOf(at)) step(child, at, childKey)
  }
  step(node, undefined, '')
}

/**
 * The lines a function takes, with its name. A table of data in it (columns listed, a record written out, no code inside) and the markup of a component
 * count as one line. swc counts bytes from where its last parse ended, so lengths are taken from the text.
 */
export function functionLengths(file: SourceFile): { readonly name: string; readonly lines: number }[] {
  const tree = parseSource(file)
  const lines = lineCounter(file, tree)
  const found: { name: string; lines: number }[] = []
  walk(tree, (node, parent) => {
    if (!FUNCTIONS.has(node.type) || !node.span) return
    const name = nameOf(node) ?? (parent && nameOf(parent)) ?? 'a function without a name'
    found.push({ name, lines: lines(node) - spared(node, lines) })
  })
  return found
}

/** The lines of a file, tables of data and lists of fields counted as one line each. */
export function fileLength(file: SourceFile): number {
  const tree = parseSource(file)
  return file.text.trimEnd().split('\n').length - spared(tree, lineCounter(file, tree))
}

function lineCounter(file: SourceFile, tree: SyntaxNode): (node: SyntaxNode) => number {
  const bytes = Buffer.from(file.text, 'utf8')
  const start = firstByte(tree, bytes)
  return ({ span }) =>
    span
      ? bytes
          .subarray(span.start - start, span.end - start)
          .toString('utf8')
          .split('\n').length
      : 1
}

const TABLES = new Set(['ObjectExpression', 'ArrayExpression', 'TsInterfaceBody', 'TsTypeLiteral'])

/** What a component shows is written out like a table; the functions in it are measured by themselves. */
const MARKUP = new Set(['JSXElement', 'JSXFragment'])

/** The lines that tables of data and markup below `node` take beyond their first. */
function spared(node: SyntaxNode, lines: (node: SyntaxNode) => number): number {
  return childrenOf(node).reduce((sum, { child }) => {
    if (MARKUP.has(child.type) || (TABLES.has(child.type) && !holdsCode(child))) return sum + lines(child) - 1
    return sum + spared(child, lines)
  }, 0)
}

function holdsCode(node: SyntaxNode): boolean {
  return childrenOf(node).some(({ child }) => FUNCTIONS.has(child.type) || holdsCode(child))
}

const FUNCTIONS = new Set([
  'FunctionDeclaration',
  'FunctionExpression',
  'ArrowFunctionExpression',
  'ClassMethod',
  'MethodProperty',
])

/** Where the first byte of the file lies in swc's own count: its module span ends at the file's last byte. */
function firstByte(tree: SyntaxNode, bytes: Buffer): number {
  return (tree.span?.end ?? bytes.length) - bytes.length
}

function nameOf(node: SyntaxNode): string | undefined {
  for (const key of ['identifier', 'id', 'key']) {
    const value = node[key]
    if (isNode(value) && typeof value.value === 'string') return value.value
  }
  return undefined
}
