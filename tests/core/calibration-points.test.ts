import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { calibrationCurve, correctReading } from '#core/uncertainty/calibration-points.ts'
import { type BudgetInstrument, instrumentTerms } from '#core/uncertainty/instrument-terms.ts'
import { contributionOf } from '#core/uncertainty/term.ts'

const instrument: BudgetInstrument = {
  instrumentId: 'A1',
  certificateId: '2026-11',
  certificate: { expandedPercentOfReading: 0, expandedAbsolute: 0.01, coverageFactor: 2 },
  accuracy: { form: 'greater_of', percentOfReading: 3, absolute: 0.015 },
  curve: null,
  driftHalfWidth: 0.006,
  resolution: 0.01,
}

describe('calibration points', () => {
  const curve = calibrationCurve([
    { reading: 1, trueValue: 1.04, expandedUncertainty: 0.02, coverageFactor: 2 },
    { reading: 0.2, trueValue: 0.21, expandedUncertainty: 0.008, coverageFactor: 2 },
    { reading: 0.5, trueValue: 0.5, expandedUncertainty: 0.012, coverageFactor: 2 },
  ])
  if (!curve) throw new Error('the points make a curve')

  it('correct a reading on a point by that point, and between two on a straight line', () => {
    expect(correctReading(curve, 0.5)).toMatchObject({ correction: 0, beyond: null, interpolationHalfWidth: 0 })
    expect(correctReading(curve, 0.2).corrected).toBeCloseTo(0.21, 12)
    const between = correctReading(curve, 0.75)
    expect(between.corrected).toBeCloseTo(0.77, 12)
    expect(between.calibrationUncertainty).toBeCloseTo(0.008, 12)
    expect(between.interpolationHalfWidth).toBeCloseTo(0.02, 12)
  })

  it('keep the nearest correction beyond the ends, and say so', () => {
    expect(correctReading(curve, 0.1)).toMatchObject({ beyond: 'below' })
    expect(correctReading(curve, 0.1).corrected).toBeCloseTo(0.11, 12)
    const above = correctReading(curve, 1.2)
    expect(above).toMatchObject({ beyond: 'above' })
    expect(above.corrected).toBeCloseTo(1.24, 12)
    expect(above.interpolationHalfWidth).toBeCloseTo(0.02, 12)
  })

  it('take the place of the accuracy statement, with drift and interpolation', () => {
    const terms = instrumentTerms({ ...instrument, curve }, [{ indicated: 0.75, sensitivity: 1 }])
    expect(terms.map(({ source }) => source)).toEqual(['calibration', 'interpolation', 'drift', 'resolution'])
    const found = Object.fromEntries(terms.map((term) => [term.source, contributionOf(term)]))
    expect(found.calibration).toBeCloseTo(0.008, 12)
    expect(found.interpolation).toBeCloseTo(0.02 / Math.sqrt(3), 12)
    expect(found.drift).toBeCloseTo(0.006 / Math.sqrt(3), 12)
  })

  it('leave the accuracy statement as drift where none is stated; 0 counts where it is stated', () => {
    const drift = (given: Partial<BudgetInstrument>) => {
      const terms = instrumentTerms({ ...instrument, curve, ...given }, [{ indicated: 0.75, sensitivity: 1 }])
      expect(terms.map(({ source }) => source)).not.toContain('accuracy')
      return terms.filter(({ source }) => source === 'drift').reduce((sum, term) => sum + contributionOf(term), 0)
    }
    // the greater of 3 % of 0.75 and 0.015 is 0.0225
    expect(drift({ driftHalfWidth: null })).toBeCloseTo(0.0225 / Math.sqrt(3), 12)
    expect(drift({ driftHalfWidth: 0 })).toBe(0)
    expect(drift({ driftHalfWidth: null, accuracy: null })).toBe(0)
  })

  it('are refused where they make no curve', () => {
    const point = { reading: 1, trueValue: 1, expandedUncertainty: 0.1, coverageFactor: 2 }
    expect(calibrationCurve([])).toBeNull()
    expect(calibrationCurve([point, { ...point, trueValue: 1.1 }])).toBeNull()
    expect(calibrationCurve([{ ...point, coverageFactor: 0 }])).toBeNull()
    expect(calibrationCurve([{ ...point, expandedUncertainty: -1 }])).toBeNull()
    expect(calibrationCurve([{ ...point, reading: Number.NaN }])).toBeNull()
  })

  it('a single point corrects everything alike', () => {
    const single = calibrationCurve([{ reading: 0.5, trueValue: 0.52, expandedUncertainty: 0.01, coverageFactor: 2 }])
    expect(single && correctReading(single, 0.3).corrected).toBeCloseTo(0.32, 12)
  })

  it('the corrected reading never jumps, and keeps its order while true values do', () => {
    const reading = fc.double({ min: 0.05, max: 1.5, noNaN: true })
    fc.assert(
      fc.property(reading, reading, (one, other) => {
        const [low, high] = one <= other ? [one, other] : [other, one]
        const rise = correctReading(curve, high).corrected - correctReading(curve, low).corrected
        expect(rise).toBeGreaterThanOrEqual(0)
        expect(rise).toBeLessThanOrEqual((high - low) * 1.1)
      }),
    )
  })
})
