import { convert } from 'convert'
import { expect, test } from 'vitest'
import { fromSi, toSi } from '#core/units/units.ts'

// An independent, general-purpose library: npm package `convert` 8.0.2. It has no velocities or flows, so those are put together from
// its lengths, volumes and times. Its temperatures carry an error of about 1e-14 K, hence the tolerance.
const values = [-12.5, -0.3, 0.001, 0.45, 1, 7.5, 92, 1234.5, 54321]
const perMinute = 1 / convert(1, 'min').to('s')
const perHour = 1 / convert(1, 'h').to('s')

const cases = [
  { name: 'ft', ours: (v: number) => toSi(v, 'ft'), theirs: (v: number) => convert(v, 'ft').to('m') },
  { name: 'in', ours: (v: number) => toSi(v, 'in'), theirs: (v: number) => convert(v, 'in').to('m') },
  { name: 'mm', ours: (v: number) => toSi(v, 'mm'), theirs: (v: number) => convert(v, 'mm').to('m') },
  { name: 'ft2', ours: (v: number) => toSi(v, 'ft2'), theirs: (v: number) => convert(v, 'ft2').to('m2') },
  { name: 'ft3', ours: (v: number) => toSi(v, 'ft3'), theirs: (v: number) => convert(v, 'ft3').to('m3') },
  { name: 'min', ours: (v: number) => toSi(v, 'min'), theirs: (v: number) => convert(v, 'min').to('s') },
  { name: 'degF', ours: (v: number) => toSi(v, 'degF'), theirs: (v: number) => convert(v, 'F').to('C') },
  { name: 'ft/min', ours: (v: number) => toSi(v, 'ft/min'), theirs: (v: number) => convert(v, 'ft').to('m') * perMinute },
  { name: 'cfm', ours: (v: number) => toSi(v, 'cfm'), theirs: (v: number) => convert(v, 'ft3').to('m3') * perMinute },
  { name: 'm3/h', ours: (v: number) => toSi(v, 'm3/h'), theirs: (v: number) => v * perHour },
  { name: 'L/s', ours: (v: number) => toSi(v, 'L/s'), theirs: (v: number) => convert(v, 'l').to('m3') },
  { name: 'to ft', ours: (v: number) => fromSi(v, 'ft'), theirs: (v: number) => convert(v, 'm').to('ft') },
  { name: 'to degF', ours: (v: number) => fromSi(v, 'degF'), theirs: (v: number) => convert(v, 'C').to('F') },
  { name: 'to cfm', ours: (v: number) => fromSi(v, 'cfm'), theirs: (v: number) => convert(v, 'm3').to('ft3') / perMinute },
]

test.each(cases)('$name agrees with the library', ({ ours, theirs }) => {
  for (const value of values) {
    const reference = theirs(value)
    expect(Math.abs(ours(value) - reference)).toBeLessThanOrEqual(1e-12 * Math.max(1, Math.abs(reference)))
  }
})
