import type { SourceTree } from './source-tree.ts'

const ID = '[A-Z]{2,5}-\\d+'

/** The ids written in the rule book, in its order: list lines that begin with a bold or plain id, as `- **DUE-3** ...` or `DUE-3 ...`. */
export function writtenRules(ruleBook: string): string[] {
  const line = new RegExp(`^(?:[-*] )?(?:\\*\\*|\`)?(${ID})\\b`, 'gm')
  return [...ruleBook.matchAll(line)].map((match) => match[1] ?? '')
}

/**
 * The ids that test titles begin with, also behind `test.each(...)`; a title may begin with several, as `'DUE-3 DUE-4 a stage ...'`.
 * Names of encodings have the same form and are none.
 */
export function quotedRules(tree: SourceTree): { readonly id: string; readonly path: string }[] {
  const title = new RegExp(`\\(\\s*['"\`]((?:(?!UTF-|ISO-)${ID}[ ,:]+)+)`, 'g')
  const id = new RegExp(ID, 'g')
  return tree.files
    .filter((file) => /^tests\/.*\.(test|spec)\.tsx?$/.test(file.path))
    .flatMap((file) => [...file.text.matchAll(title)].map((match) => ({ ids: match[1] ?? '', path: file.path })))
    .flatMap(({ ids, path }) => [...ids.matchAll(id)].map((match) => ({ id: match[0], path })))
}
