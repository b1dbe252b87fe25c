import fc from 'fast-check'
import { expect, test } from 'vitest'
import { correctedDoubt } from '#core/history/recalculation.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { aCalibration, aCriterion, entered, faceRun, INSTRUMENT_ID } from './face-run.ts'

type Points = EntityBody<'calibration'>['points']

const point = (reading: number, trueValue: number): Points[number] => ({
  quantity: 'velocity',
  reading: entered(reading, 'm/s'),
  trueValue: entered(trueValue, 'm/s'),
  expandedUncertainty: entered(0.004, 'm/s'),
  coverageFactor: 2,
})
const ACCURACY = { form: 'sum_of' as const, percentOfReading: 3, absolute: entered(0.01, 'm/s') }
const DOUBT = { instrumentId: INSTRUMENT_ID, from: null, to: '2099-12-31' }

/** A filter by an instrument that one certificate vouches for, without points, and with a small drift promised until the next. */
function aRun(readings: readonly number[], accuracy: typeof ACCURACY | null) {
  return faceRun({
    filters: [{ readings }],
    instrument: {
      senses: [{ quantity: 'velocity', low: entered(0.05, 'm/s'), high: entered(30, 'm/s'), resolution: entered(0.01, 'm/s'), accuracy }],
    },
    calibrations: [
      aCalibration({
        uncertainty: [{ quantity: 'velocity', expandedPercentOfReading: 0, expandedAbsolute: entered(0.004, 'm/s'), coverageFactor: 2 }],
        drift: [{ quantity: 'velocity', halfWidth: entered(0.001, 'm/s') }],
      }),
    ],
    criteria: [
      aCriterion({
        key: 'at_least',
        quantity: 'face_velocity',
        scope: 'filter',
        form: { kind: 'at_least', limit: { from: 'value', value: entered(0.36, 'm/s') } },
      }),
    ],
    set: { decisionRule: { kind: 'guarded', multiple: 1 } },
  })
}

function compute(input: ReturnType<typeof aRun>) {
  const [filter] = methodOf(input.run.method).compute(input).filters
  const { expanded = Number.NaN, coverageFactor = Number.NaN } = filter?.uncertainty?.meanVelocity ?? {}
  // the combined standard uncertainty: U depends on the degrees of freedom as well
  return { u: expanded / coverageFactor, verdict: filter?.criteria[0]?.verdict }
}

function corrected(input: ReturnType<typeof aRun>, points: Points) {
  const made = correctedDoubt(input, DOUBT, points)
  if (!made) throw new Error('the points speak of velocity')
  return compute(made)
}

test('as-found points never make an instrument that was out of tolerance surer than it claimed to be', () => {
  const readings = fc.array(fc.double({ min: 0.2, max: 1, noNaN: true }), { minLength: 2, maxLength: 6 })
  fc.assert(
    fc.property(readings, (typed) => {
      const input = aRun(typed, ACCURACY)
      // these points correct nothing: only what is known of the instrument differs
      expect(corrected(input, [point(0.2, 0.2), point(1, 1)]).u).toBeGreaterThanOrEqual(compute(input).u * (1 - 1e-9))
    }),
  )
})

test('an undecided verdict does not turn into a pass, whatever drift was promised', () => {
  // 0.375 against 0.36: half widths of 0.0213 by the accuracy statement make U about 0.025
  const input = aRun([0.375, 0.375, 0.375, 0.375], ACCURACY)
  expect(compute(input).verdict).toBe('inconclusive')
  expect(corrected(input, [point(0.2, 0.2), point(1, 1)]).verdict).toBe('inconclusive')
})

test('without an accuracy statement the drift that the certificate states is all there is, and stays', () => {
  const input = aRun([0.37, 0.38, 0.36, 0.37], null)
  const wider = { ...input, calibrations: input.calibrations.map((one) => ({ ...one, body: { ...one.body, drift: [] } })) }
  const points = [point(0.2, 0.2), point(1, 1)]
  expect(corrected(input, points).u).toBeGreaterThan(corrected(wider, points).u)
})
