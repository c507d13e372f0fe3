import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { placeWindow, readWindowPlace, SMALLEST } from '../../electron/main/window-place.ts'

const screen = { x: 0, y: 0, width: 1920, height: 1040 }
const second = { x: 1920, y: 0, width: 2560, height: 1400 }

describe('where the window opens', () => {
  test('the first time in the middle of the first display', () => {
    expect(placeWindow(null, [screen, second])).toEqual({ x: 240, y: 70, width: 1440, height: 900, maximised: false })
  })

  test('then where it was, on the second display too', () => {
    const place = { x: 2000, y: 50, width: 1500, height: 1000, maximised: true }
    expect(placeWindow(place, [screen, second])).toEqual(place)
  })

  test('when its display is gone, in the middle of the first, still maximised', () => {
    const place = { x: 2000, y: 50, width: 1500, height: 1000, maximised: true }
    expect(placeWindow(place, [screen])).toEqual({ x: 240, y: 70, width: 1440, height: 900, maximised: true })
  })

  test('a title bar above the display cannot be caught', () => {
    expect(placeWindow({ x: 0, y: -500, width: 1200, height: 800, maximised: false }, [screen])).toMatchObject({
      x: 240,
      y: 70,
    })
  })

  test('never larger than its display', () => {
    const small = { x: 0, y: 0, width: 900, height: 600 }
    expect(placeWindow({ x: 0, y: 0, width: 3000, height: 2000, maximised: false }, [small])).toEqual({
      ...small,
      maximised: false,
    })
  })

  test('whatever was remembered and whatever displays there are, the window can be caught', () => {
    const at = fc.integer({ min: -5000, max: 5000 })
    const size = fc.integer({ min: 1, max: 5000 })
    const area = fc.record({
      x: at,
      y: at,
      width: fc.integer({ min: 640, max: 5000 }),
      height: fc.integer({ min: 480, max: 3000 }),
    })
    const place = fc.record({ x: at, y: at, width: size, height: size, maximised: fc.boolean() })
    fc.assert(
      fc.property(fc.option(place), fc.array(area, { minLength: 1, maxLength: 3 }), (remembered, areas) => {
        const { x, y, width, height } = placeWindow(remembered, areas)
        const on = areas.filter(
          (one) => x >= one.x && y >= one.y && x + width <= one.x + one.width && y + height <= one.y + one.height,
        )
        expect(on.length).toBeGreaterThan(0)
        expect(
          on.some(
            (one) => width >= Math.min(SMALLEST.width, one.width) && height >= Math.min(SMALLEST.height, one.height),
          ),
        ).toBe(true)
      }),
    )
  })

  test.each(['', 'null', '{}', '{"x":1e9,"y":0,"width":1,"height":1,"maximised":false}', '{"x":"0"}', '[1]'])(
    '%s is no place',
    (text) => {
      expect(readWindowPlace(text)).toBeNull()
    },
  )
})
