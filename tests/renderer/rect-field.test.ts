import fc from 'fast-check'
import { expect, test } from 'vitest'
import { overlaps } from '#renderer/rooms/plan/rect.ts'
import { RectField } from '#renderer/rooms/plan/rect-field.ts'

const place = fc.double({ min: -400, max: 1600, noNaN: true })
const length = fc.double({ min: 0, max: 300, noNaN: true })
const rect = fc.record({ left: place, top: place, width: length, height: length })

test('a field of rectangles answers as looking at every one of them does', () => {
  fc.assert(
    fc.property(fc.array(rect, { maxLength: 40 }), fc.array(rect, { maxLength: 20 }), (held, asked) => {
      const field = new RectField()
      for (const one of held) field.add(one)
      for (const one of asked) expect(field.touches(one)).toBe(held.some((other) => overlaps(other, one)))
    }),
  )
})

test('rectangles that only share an edge do not touch, also across the field’s own cells', () => {
  const field = new RectField(64)
  field.add({ left: 0, top: 0, width: 64, height: 64 })
  expect(field.touches({ left: 64, top: 0, width: 10, height: 10 })).toBe(false)
  expect(field.touches({ left: 63.5, top: 0, width: 10, height: 10 })).toBe(true)
})
