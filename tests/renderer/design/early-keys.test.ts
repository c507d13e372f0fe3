import { expect, test } from 'vitest'
import { waitsForRows } from '../../../renderer/design/early-keys.ts'

const press = (key: string, own: { ctrlKey?: boolean; metaKey?: boolean } = {}) => ({
  ...{ key, shiftKey: false, ctrlKey: false, metaKey: false },
  ...own,
})

test('keys that move, choose and open wait for the rows of a list; letters, Tab and whatever the browser takes do not', () => {
  for (const key of ['ArrowDown', 'ArrowUp', 'PageDown', 'PageUp', 'Home', 'End', ' ', 'Enter'])
    expect(waitsForRows(press(key)), key).toBe(true)
  for (const key of ['Tab', 'Escape', 'b', 'l', 'F5', '/']) expect(waitsForRows(press(key)), key).toBe(false)
  expect(waitsForRows(press('ArrowDown', { ctrlKey: true }))).toBe(false)
  expect(waitsForRows(press('Enter', { metaKey: true }))).toBe(false)
})
