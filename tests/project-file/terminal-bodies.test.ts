import fc from 'fast-check'
import { expect, test } from 'vitest'
import { terminalBodies } from '#electron/project-file/terminal-bodies.ts'

const text = fc.oneof(fc.constantFrom(',"tag":', '"', '\\', '{', '}', 'a,"tag":1}'), fc.string())
const nested = fc.record({ si: fc.double({ noNaN: true, noDefaultInfinity: true }), tag: text, x: text }, { requiredKeys: [] })
const body = fc.record(
  { a: text, area: nested, list: fc.array(nested, { maxLength: 2 }), tag: text, x: fc.integer(), zoneId: fc.option(text) },
  { requiredKeys: [] },
)

test('bodies read as JSON.parse reads them, whatever they have in common and wherever a tag stands', () => {
  fc.assert(
    fc.property(fc.array(fc.tuple(body, fc.integer({ min: 1, max: 3 })), { maxLength: 6 }), (bodies) => {
      const read = terminalBodies()
      for (const [one, times] of bodies) {
        for (let time = 0; time < times; time += 1) {
          const stored = JSON.stringify({ ...one, ...('tag' in one ? { tag: `${one.tag}${time}` } : {}) })
          expect(JSON.stringify(read(stored))).toBe(JSON.stringify(JSON.parse(stored)))
        }
      }
    }),
    { numRuns: 500 },
  )
})

test('what stands before the tag is read once for terminals that are alike up to it', () => {
  const read = terminalBodies()
  read('{"area":{"si":1},"tag":"A","x":1}')
  const second = read('{"area":{"si":1},"tag":"B","x":2}') as { area: object }
  const third = read('{"area":{"si":1},"tag":"C","x":3}') as { area: object }
  expect(third).toEqual({ area: { si: 1 }, tag: 'C', x: 3 })
  expect(third.area).toBe(second.area)
})
