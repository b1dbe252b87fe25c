import { expect, test } from 'vitest'
import { computeFaceVelocityGrid } from '#core/methods/airflow/face-velocity-grid.ts'
import { faceRun } from '../core/face-run.ts'
import { sensing } from '../core/room-run.ts'
import { lew, lottery, mavro, michelso } from './nist-strd-data.ts'

// Certified values: NIST Statistical Reference Datasets, univariate summary statistics, printed by NIST to 15 digits.
// The digits asked for are those that double precision leaves: the data of NumAcc3 and NumAcc4 (1000000.1, 10000000.1 ...) are
// themselves rounded when read as doubles, to about 1e-10 and 1e-9 of their spread of 0.1. NIST's ninth set, PiDigits, is left out: its
// 5000 values are not at hand, and they are not exactly the first digits of pi (whose mean is 4.5358, not the certified 4.5348).

/** Correct digits of a computed value: the log relative error of NIST, at most the 15 that NIST certifies. */
function correctDigits(computed: number | null, certified: number): number {
  if (computed === null) return 0
  return computed === certified ? 15 : Math.min(15, -Math.log10(Math.abs(computed - certified) / Math.abs(certified)))
}

/** c.2 and then c.1, c.3 in turn, 1001 values, written as decimals and read: how NIST builds NumAcc2, 3 and 4. */
function alternating(whole: number): number[] {
  return [Number(`${whole}.2`), ...Array.from({ length: 1000 }, (_, index) => Number(`${whole}.${index % 2 === 0 ? 1 : 3}`))]
}

const sets = [
  { name: 'Michelso', data: michelso, n: 100, mean: 299.8524, deviation: 0.0790105478190518, digits: 13 },
  { name: 'Mavro', data: mavro, n: 50, mean: 2.001856, deviation: 0.000429123454003053, digits: 12 },
  { name: 'Lottery', data: lottery, n: 218, mean: 518.95871559633, deviation: 291.699727470969, digits: 14 },
  { name: 'Lew', data: lew, n: 200, mean: -177.435, deviation: 277.332168044316, digits: 14 },
  { name: 'NumAcc1', data: [10000001, 10000003, 10000002], n: 3, mean: 10000002, deviation: 1, digits: 15 },
  { name: 'NumAcc2', data: alternating(1), n: 1001, mean: 1.2, deviation: 0.1, digits: 14 },
  { name: 'NumAcc3', data: alternating(1000000), n: 1001, mean: 1000000.2, deviation: 0.1, digits: 9 },
  { name: 'NumAcc4', data: alternating(10000000), n: 1001, mean: 10000000.2, deviation: 0.1, digits: 8 },
]

test.each(sets)('NIST StRD $name, read as the points of one filter: mean to 14 digits and standard deviation to $digits', (set) => {
  const instrument = { senses: [sensing('velocity', -1e9, 1e9)], basis: 'actual' as const }
  const [filter] = computeFaceVelocityGrid(faceRun({ filters: [{ readings: set.data }], instrument })).filters
  expect(filter?.pointsMeasured).toBe(set.n)
  const meanDigits = correctDigits(filter?.meanVelocityMps ?? null, set.mean)
  const deviationDigits = correctDigits(filter?.standardDeviationMps ?? null, set.deviation)
  console.info(`${set.name}: correct digits of the mean ${meanDigits.toFixed(1)}, of the standard deviation ${deviationDigits.toFixed(1)}`)
  expect(meanDigits).toBeGreaterThanOrEqual(14)
  expect(deviationDigits).toBeGreaterThanOrEqual(set.digits)
})
