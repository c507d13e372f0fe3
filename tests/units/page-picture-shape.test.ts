import { expect, test } from 'vitest'
import { pagePictureSchema, previewOf } from '../../core/units/page-picture-shape.ts'

test('a page on its way to a preview keeps every mark', () => {
  const line = { kind: 'outline', path: 'M 0 0 L 1 1', line: 'rule', fill: null, lineWidth: 0.5 } as const
  const words = { kind: 'text', x: 1, y: 2, size: 9, weight: 'semibold', ink: 'ink', text: 'P-1005' } as const
  const dash: readonly [number, number] = [2, 1]
  const picture = previewOf({ width: 612, height: 792, marks: [words, { ...line, dash }, { ...line, dash: null }] })
  expect(pagePictureSchema.parse(picture)).toEqual(picture)
  expect(picture.marks).toEqual([words, { ...line, dash: [2, 1] }, { ...line, dash: null }])
})
