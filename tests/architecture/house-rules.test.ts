import { fileURLToPath } from 'node:url'
import { describe, expect, test } from 'vitest'
import { HOUSE_RULES } from './house-rules.ts'
import { readSourceTree } from './source-tree.ts'

const tree = readSourceTree(fileURLToPath(new URL('../..', import.meta.url)))

describe('the house keeps its rules', () => {
  test.each(HOUSE_RULES)('$name', ({ complaints }) => {
    expect(complaints(tree)).toEqual([])
  })
})
