import fc from 'fast-check'
import { mean as libraryMean, sampleStandardDeviation } from 'simple-statistics'
import { describe, expect, it } from 'vitest'
import { computeFaceVelocityGrid } from '#core/methods/airflow/face-velocity-grid.ts'
import { leastPossibleDeviationPercent, leastPossibleRsdPercent } from '#core/methods/airflow/set-figures.ts'
import { entered, faceRun, type GivenFilter } from './face-run.ts'

function filterOf(given: GivenFilter, more: Omit<Parameters<typeof faceRun>[0], 'filters'> = {}) {
  const result = computeFaceVelocityGrid(faceRun({ filters: [given], ...more }))
  const filter = result.filters[0]
  if (!filter) throw new Error('no filter')
  return filter
}

const velocity = fc.double({ min: 0.05, max: 1.5, noNaN: true })
const velocities = fc.array(velocity, { minLength: 2, maxLength: 16 })

describe('figures of one filter', () => {
  it('are worked by hand for a filter of four points', () => {
    // 0.42 0.46 0.44 0.48: mean 1.80 / 4 = 0.45. Deviations -0.03 0.01 -0.01 0.03; squares sum 0.0020; / 3 = 0.000666667; root
    // 0.0258199. RSD 0.0258199 / 0.45 = 5.73775 %. Largest deviation 0.03 / 0.45 = 6.66667 %. Flow 0.45 x 0.7 = 0.315 m3/s.
    const filter = filterOf({ readings: [0.42, 0.46, 0.44, 0.48], terminal: { designVelocity: entered(0.5, 'm/s') } })
    expect(filter.meanVelocityMps).toBeCloseTo(0.45, 12)
    expect(filter.leastVelocityMps).toBe(0.42)
    expect(filter.greatestVelocityMps).toBe(0.48)
    expect(filter.standardDeviationMps).toBeCloseTo(0.0258199, 7)
    expect(filter.relativeStandardDeviationPercent).toBeCloseTo(5.73775, 5)
    expect(filter.largestDeviationPercent).toBeCloseTo(6.66667, 5)
    expect([1, 4]).toContain(filter.largestDeviationPoint)
    expect(filter.flowM3ps).toBeCloseTo(0.315, 12)
    expect(filter.percentOfDesign).toBeCloseTo(90, 10)
    expect(filter.designFlowM3ps).toBeCloseTo(0.35, 12)
    expect(filter.basis).toBe('as_indicated')
  })

  it("takes a point's mean over its samples before the filter's mean", () => {
    // points (0.40, 0.44, 0.48) -> 0.44 and (0.50) -> 0.50: mean 0.47, not 1.82 / 4 = 0.455
    const filter = filterOf({ readings: [[0.4, 0.44, 0.48], 0.5] })
    expect(filter.meanVelocityMps).toBeCloseTo(0.47, 12)
    expect(filter.pointMeansMps).toEqual([
      { point: 1, meanMps: expect.closeTo(0.44, 12) },
      { point: 2, meanMps: 0.5 },
    ])
  })

  it('weights unequal cells by their area', () => {
    // cells 0.2 and 0.1 m2: (0.3 x 0.2 + 0.6 x 0.1) / 0.3 = 0.4 m/s, and 0.4 x 0.7 = 0.28 m3/s
    const filter = filterOf({ readings: [0.3, 0.6], cells: [0.2, 0.1] })
    expect(filter.meanVelocityMps).toBeCloseTo(0.4, 12)
    expect(filter.flowM3ps).toBeCloseTo(0.28, 12)
  })

  it('multiplies flow, and not velocity, by a reasoned correction factor', () => {
    const filter = filterOf({
      readings: [0.45, 0.45],
      terminal: { correctionFactor: { factor: 0.9, reason: 'frame in the stream', uncertaintyPercent: null } },
    })
    expect(filter.meanVelocityMps).toBeCloseTo(0.45, 12)
    expect(filter.flowM3ps).toBeCloseTo(0.45 * 0.7 * 0.9, 12)
    expect(filter.notes.map((note) => note.code)).toContain('note.corrected')
  })

  it('takes percent of design of the design that was written for the filter', () => {
    const byFlow = filterOf(
      { readings: [0.45, 0.45], terminal: { designFlow: entered(1000, 'm3/h') } },
      { room: { designVelocity: entered(0.9, 'm/s') } },
    )
    expect(byFlow.percentOfDesign).toBeCloseTo((100 * 0.45 * 0.7 * 3600) / 1000, 10)
    const byRoom = filterOf({ readings: [0.45, 0.45] }, { room: { designVelocity: entered(0.9, 'm/s') } })
    expect(byRoom.percentOfDesign).toBeCloseTo(50, 10)
    expect(filterOf({ readings: [0.45, 0.45] }).percentOfDesign).toBeNull()
  })

  it('gives a single point a mean and a flow, and no spread', () => {
    const filter = filterOf({ readings: [0.45] })
    expect(filter.meanVelocityMps).toBe(0.45)
    expect(filter.flowM3ps).toBeCloseTo(0.315, 12)
    expect(filter.standardDeviationMps).toBeNull()
    expect(filter.relativeStandardDeviationPercent).toBeNull()
    expect(filter.largestDeviationPercent).toBeNull()
  })

  it('gives no valid point no mean and no flow', () => {
    const filter = filterOf({ readings: [null, null] })
    expect([filter.meanVelocityMps, filter.flowM3ps, filter.leastVelocityMps, filter.standardDeviationMps]).toEqual([
      null,
      null,
      null,
      null,
    ])
    expect(filter.pointsMeasured).toBe(0)
  })

  it.each([
    ['reversed', [-0.3, 0.1]],
    ['zero', [0, 0]],
    ['cancelling', [-0.2, 0.2]],
  ])('gives a %s mean no relative spread', (_name, readings) => {
    const filter = filterOf({ readings })
    expect(filter.relativeStandardDeviationPercent).toBeNull()
    expect(filter.largestDeviationPercent).toBeNull()
    expect(filter.standardDeviationMps).not.toBeNull()
  })

  it('counts voided readings beside the figures', () => {
    const id = faceRun({ filters: [{ readings: [0.4] }] }).terminals[0]?.id ?? ''
    const filter = filterOf({ readings: [0.4, 0.5] }, { voided: new Map([[id, 3]]) })
    expect(filter.readingsVoided).toBe(3)
    expect(filter.meanVelocityMps).toBeCloseTo(0.45, 12)
  })

  it('says nothing of flow at working height, where the air is no longer one filter’s', () => {
    const filter = filterOf({ readings: [0.45, 0.45] }, { run: { plane: { kind: 'working_height', heightM: 1 } } })
    expect(filter.meanVelocityMps).toBe(0.45)
    expect(filter.flowM3ps).toBeNull()
  })
})

describe('properties of the figures', () => {
  it('agree with an independent statistics library', () => {
    fc.assert(
      fc.property(velocities, (readings) => {
        const filter = filterOf({ readings })
        const mean = libraryMean(readings)
        expect(filter.meanVelocityMps).toBeCloseTo(mean, 10)
        expect(filter.relativeStandardDeviationPercent).toBeCloseTo((100 * sampleStandardDeviation(readings)) / mean, 8)
      }),
    )
  })

  it('do not depend on the order of readings, within 1e-12', () => {
    fc.assert(
      fc.property(velocities, fc.infiniteStream(fc.nat()), (readings, keys) => {
        const shuffled = readings
          .map((value) => ({ value, key: keys.next().value ?? 0 }))
          .sort((a, b) => a.key - b.key)
          .map(({ value }) => value)
        const a = filterOf({ readings })
        const b = filterOf({ readings: shuffled })
        const near = (x: number | null, y: number | null) =>
          expect(Math.abs((x ?? 0) - (y ?? 0))).toBeLessThanOrEqual(1e-12 * Math.max(1, Math.abs(x ?? 0)))
        near(a.meanVelocityMps, b.meanVelocityMps)
        near(a.flowM3ps, b.flowM3ps)
        near(a.standardDeviationMps, b.standardDeviationMps)
        near(a.leastVelocityMps, b.leastVelocityMps)
      }),
    )
  })

  it('come out the same in whatever order readings were stored', () => {
    const input = faceRun({ filters: [{ readings: [[0.4, 0.41], [0.5, 0.52, 0.54], 0.45] }] })
    const reversed = { ...input, values: [...input.values].reverse() }
    expect(computeFaceVelocityGrid(reversed).filters[0]?.meanVelocityMps).toBeCloseTo(
      computeFaceVelocityGrid(input).filters[0]?.meanVelocityMps ?? 0,
      12,
    )
  })

  it('scale: velocities times k give flow times k and leave relative spread alone', () => {
    fc.assert(
      fc.property(velocities, fc.double({ min: 0.5, max: 4, noNaN: true }), (readings, k) => {
        const a = filterOf({ readings })
        const b = filterOf({ readings: readings.map((value) => value * k) })
        expect((b.flowM3ps ?? 0) / (a.flowM3ps ?? 1)).toBeCloseTo(k, 10)
        expect(b.relativeStandardDeviationPercent).toBeCloseTo(a.relativeStandardDeviationPercent ?? 0, 8)
      }),
    )
  })

  it('keep the flow when a filter is split in two halves of equal cells', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(velocity, velocity), { minLength: 1, maxLength: 8 }), (pairs) => {
        const left = pairs.map(([a]) => a)
        const right = pairs.map(([, b]) => b)
        const whole = computeFaceVelocityGrid(faceRun({ filters: [{ readings: [...left, ...right] }] }))
        const half = { effectiveArea: entered(0.35, 'm2') }
        const halves = computeFaceVelocityGrid(
          faceRun({
            filters: [
              { readings: left, terminal: half },
              { readings: right, terminal: half },
            ],
          }),
        )
        expect(halves.room.supplyFlowM3ps).toBeCloseTo(whole.room.supplyFlowM3ps ?? -1, 12)
        expect(halves.room.areaWeightedMeanVelocityMps).toBeCloseTo(whole.room.areaWeightedMeanVelocityMps ?? -1, 12)
      }),
    )
  })
})

describe('what an incomplete set can still become', () => {
  it('bounds the spread from below: no way of filling the gap goes under it', () => {
    fc.assert(
      fc.property(velocities, fc.array(fc.double({ min: 0, max: 3, noNaN: true }), { minLength: 1, maxLength: 6 }), (measured, missing) => {
        const all = [...measured, ...missing]
        const mean = libraryMean(all)
        const rsd = (100 * sampleStandardDeviation(all)) / mean
        const deviation = (100 * Math.max(...all.map((value) => Math.abs(value - mean)))) / mean
        expect(leastPossibleRsdPercent(measured, all.length) ?? Number.POSITIVE_INFINITY).toBeLessThanOrEqual(rsd + 1e-9)
        const least = leastPossibleDeviationPercent(Math.min(...measured), Math.max(...measured))
        expect(least ?? Number.POSITIVE_INFINITY).toBeLessThanOrEqual(deviation + 1e-9)
      }),
    )
  })

  it('reaches the bound of the spread when the missing values are S2 / S1', () => {
    // 0.3 and 0.6: S1 0.9, S2 0.45, x 0.5. Set 0.3 0.6 0.5: mean 0.466667, s 0.152753, RSD 32.7327 %
    expect(leastPossibleRsdPercent([0.3, 0.6], 3)).toBeCloseTo(32.7327, 4)
    expect((100 * sampleStandardDeviation([0.3, 0.6, 0.5])) / libraryMean([0.3, 0.6, 0.5])).toBeCloseTo(32.7327, 4)
  })
})
