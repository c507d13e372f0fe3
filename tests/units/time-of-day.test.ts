import fc from 'fast-check'
import { expect, test } from 'vitest'
import { formatTimeOfDay, formatWindow, minutes, parseTimeOfDay, timeOfDay } from '../../core/units/time-of-day.ts'

test.each([
  ['8', 480],
  ['8:30', 510],
  ['08.30', 510],
  ['2 pm', 840],
  ['2p', 840],
  ['12 am', 0],
  ['12 pm', 720],
  ['14:05', 845],
  ['24:00', 1440],
])('UNIT-13 "%s" is a time of day', (text, expected) => {
  expect(parseTimeOfDay(text)).toBe(expected)
})

test.each(['', 'noon', '25', '8:60', '13 pm', '24:01'])('UNIT-13 "%s" is none', (text) => {
  expect(parseTimeOfDay(text)).toBeNull()
})

test('UNIT-13 a time that was written can be read again', () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 1439 }), (time) => {
      expect(parseTimeOfDay(formatTimeOfDay(timeOfDay(time), 'en-US'))).toBe(time)
      expect(parseTimeOfDay(formatTimeOfDay(timeOfDay(time), 'de-DE'))).toBe(time)
    }),
  )
})

test('UNIT-13 an arrival window names its half of the day once', () => {
  expect(formatWindow(timeOfDay(480), timeOfDay(600), 'en-US')).toBe('8:00–10:00 am')
  expect(formatWindow(timeOfDay(660), timeOfDay(780), 'en-US')).toBe('11:00 am–1:00 pm')
  expect(formatWindow(timeOfDay(480), timeOfDay(600), 'de-DE')).toBe('08:00–10:00')
  expect(() => minutes(-1)).toThrow(RangeError)
  expect(() => minutes(1.5)).toThrow(RangeError)
})
