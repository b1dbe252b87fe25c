import { describe, expect, it } from 'vitest'
import { computeFaceVelocityGrid } from '#core/methods/airflow/face-velocity-grid.ts'
import { fromSi, toSi } from '#core/units/units.ts'
import { entered, faceRun, type GivenFilter } from '#tests/core/face-run.ts'

function supply(filters: GivenFilter[]): number {
  return computeFaceVelocityGrid(faceRun({ filters })).room.supplyFlowM3ps ?? Number.NaN
}

describe('flow from face velocity and area', () => {
  // National Air Filtration Association, "Mathematics of Air Filtration" (technical seminar, 2011), seen in public text:
  // 4 sq. ft. x 500 FPM = 2000 CFM; 24 filters of 20 x 20 in at 375 FPM: 66.72 sq. ft. x 375 = 25 020 CFM (areas rounded to 2.78).
  it('4 ft2 at 500 ft/min is 2000 cfm', () => {
    const v = toSi(500, 'ft/min')
    expect(fromSi(supply([{ readings: [v, v, v], terminal: { effectiveArea: entered(4, 'ft2') } }]), 'cfm')).toBeCloseTo(2000, 8)
  })

  it('24 filters of 2.78 ft2 at 375 ft/min are 25 020 cfm', () => {
    const v = toSi(375, 'ft/min')
    const filters = Array.from({ length: 24 }, () => ({ readings: [v, v], terminal: { effectiveArea: entered(2.78, 'ft2') } }))
    expect(fromSi(supply(filters), 'cfm')).toBeCloseTo(25_020, 6)
  })

  it('0.45 m/s over 0.6 x 0.6 m is 0.162 m3/s, 583 m3/h, 343 cfm', () => {
    // an engineer's own figures in a public forum thread on filter flow (2010); recomputed: 0.45 x 0.36 = 0.162
    const flow = supply([{ readings: [0.45, 0.45, 0.45, 0.45], terminal: { effectiveArea: entered(0.36, 'm2') } }])
    expect(flow).toBeCloseTo(0.162, 12)
    expect(Math.round(fromSi(flow, 'm3/h'))).toBe(583)
    expect(Math.round(fromSi(flow, 'cfm'))).toBe(343)
  })

  it('is the sum of cell velocity x cell area (first principles; ISO 14644-3, from memory)', () => {
    // effective face 1.1 x 0.55 m = 0.605 m2 in 2 x 4 equal cells of 0.075625 m2 each:
    // (0.41 + 0.43 + 0.46 + 0.44 + 0.47 + 0.45 + 0.42 + 0.44) x 0.075625 = 3.52 x 0.075625 = 0.2662 m3/s = 958.32 m3/h
    const readings = [0.41, 0.43, 0.46, 0.44, 0.47, 0.45, 0.42, 0.44]
    const flow = supply([{ readings, terminal: { effectiveArea: entered(0.605, 'm2') } }])
    expect(flow).toBeCloseTo(0.2662, 12)
    expect(fromSi(flow, 'm3/h')).toBeCloseTo(958.32, 9)
  })
})

describe('a whole room by hand', () => {
  it('adds two filters and a closed one up to supply, air changes and percent of design', () => {
    // Room 5 x 4 x 3 m = 60 m3, design 20 per hour = 1200 m3/h.
    // Filter 1: 0.44 0.46 0.45 0.45, mean 0.45, 0.70 m2: 0.315 m3/s = 1134 m3/h
    // Filter 2: 0.20 0.24 0.22 0.22, mean 0.22, 0.35 m2, factor 0.9: 0.22 x 0.35 x 0.9 = 0.0693 m3/s = 249.48 m3/h
    // Filter 3: closed: 0
    // Supply 0.3843 m3/s = 1383.48 m3/h; air changes 1383.48 / 60 = 23.058; of design 1383.48 / 1200 = 115.29 %
    // Mean velocity over 0.70 + 0.35 + 0.70 m2: (0.315 + 0.077 + 0) / 1.75 = 0.224 m/s
    const { room } = computeFaceVelocityGrid(
      faceRun({
        room: { designAirChangesPerHour: 20 },
        filters: [
          { readings: [0.44, 0.46, 0.45, 0.45] },
          {
            readings: [0.2, 0.24, 0.22, 0.22],
            terminal: {
              effectiveArea: entered(0.35, 'm2'),
              correctionFactor: { factor: 0.9, reason: 'perforated screen', uncertaintyPercent: null },
            },
          },
          { readings: [], terminal: { closed: { reason: 'blanked off' } } },
        ],
      }),
    )
    expect(fromSi(room.supplyFlowM3ps ?? 0, 'm3/h')).toBeCloseTo(1383.48, 9)
    expect(room.airChangesPerHour).toBeCloseTo(23.058, 9)
    expect(room.percentOfDesign).toBeCloseTo(115.29, 9)
    expect(room.areaWeightedMeanVelocityMps).toBeCloseTo(0.224, 12)
  })
})
