import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { equalAreaLines } from '#core/methods/traverse/equal-area.ts'
import { layOutTraverse, type TraverseLayout } from '#core/methods/traverse/layout.ts'
import { logLinearPoints } from '#core/methods/traverse/log-linear.ts'
import { checkTraversePlace } from '#core/methods/traverse/place-check.ts'
import { equivalentDiameterM } from '#core/methods/traverse/rule.ts'

function laidOut(request: Parameters<typeof layOutTraverse>[0]): TraverseLayout {
  const laid = layOutTraverse(request)
  if ('problem' in laid) throw new Error(laid.problem)
  return laid
}

const own = { lines: null, pointsPerLine: null }

describe('points of a rectangular traverse', () => {
  const duct = { shape: 'rectangular', widthM: 0.8, heightM: 0.5 } as const

  it('are 6 lines of 5 points in 800 x 500 mm by log-Tchebycheff, with their insertion depths', () => {
    const layout = laidOut({ section: duct, rule: 'log_tchebycheff', ...own })
    expect([layout.lines, layout.pointsPerLine, layout.points.length]).toEqual([6, 5, 30])
    // by hand: 0.074, 0.288, 0.5, 0.712, 0.926 of 500 mm
    expect(layout.insertionsM.map((depth) => Math.round(depth * 1000))).toEqual([37, 144, 250, 356, 463])
    expect(layout.ports.map((place) => Math.round(place * 1000))).toEqual([49, 188, 350, 450, 612, 751])
    expect(layout.areaM2).toBeCloseTo(0.4, 12)
  })

  it('are numbered line by line, the first of each nearest to its port at the top', () => {
    const { points } = laidOut({ section: duct, rule: 'equal_area', lines: 2, pointsPerLine: 2 })
    expect(points.map(({ number, line, place }) => [number, line, place])).toEqual([
      [1, 1, 1],
      [2, 1, 2],
      [3, 2, 1],
      [4, 2, 2],
    ])
    expect(points[0]).toMatchObject({ insertionM: 0.125, offsetXM: -0.2, offsetYM: 0.125 })
    expect(points[3]).toMatchObject({ insertionM: 0.375, offsetYM: -0.125 })
    expect(points[3]?.offsetXM).toBeCloseTo(0.2, 12)
  })

  it('never fall under 25 by log-Tchebycheff, nor out of 16 to 64 by equal areas, and all lie inside', () => {
    const side = fc.double({ min: 0.1, max: 3, noNaN: true })
    fc.assert(
      fc.property(side, side, fc.constantFrom('log_tchebycheff' as const, 'equal_area' as const), (widthM, heightM, rule) => {
        const { points } = laidOut({ section: { shape: 'rectangular', widthM, heightM }, rule, ...own })
        expect(points.length).toBeGreaterThanOrEqual(rule === 'equal_area' ? 16 : 25)
        expect(points.length).toBeLessThanOrEqual(64)
        for (const { offsetXM, offsetYM, insertionM } of points) {
          expect(Math.abs(offsetXM)).toBeLessThan(widthM / 2)
          expect(insertionM + offsetYM).toBeCloseTo(heightM / 2, 12)
        }
      }),
    )
  })

  it('stand at most 150 mm apart by equal areas while 8 lines suffice', () => {
    expect([0.2, 0.6, 0.61, 0.75, 1.2, 3].map(equalAreaLines)).toEqual([4, 4, 5, 5, 8, 8])
    expect(equalAreaLines(0)).toBeNull()
  })
})

describe('points of a round traverse', () => {
  it('are 3 diameters of 8 in 400 mm by log-linear, 2 of 10 by equal rings', () => {
    const section = { shape: 'round', diameterM: 0.4 } as const
    const logLinear = laidOut({ section, rule: 'log_linear', ...own })
    expect([logLinear.ports, logLinear.pointsPerLine]).toEqual([[0, 60, 120], 8])
    expect(logLinear.insertionsM.map((depth) => Number((depth * 1000).toFixed(1)))).toEqual([
      8.4, 46.8, 73.6, 138, 262, 326.4, 353.2, 391.6,
    ])
    const rings = laidOut({ section, rule: 'equal_area', ...own })
    expect([rings.ports, rings.points.length]).toEqual([[0, 90], 20])
  })

  it('lie on their diameter at the depth that is printed', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 2, noNaN: true }), fc.integer({ min: 1, max: 4 }), (diameterM, lines) => {
        const { points } = laidOut({ section: { shape: 'round', diameterM }, rule: 'log_linear', lines, pointsPerLine: null })
        for (const { offsetXM, offsetYM, insertionM } of points)
          expect(Math.hypot(offsetXM, offsetYM)).toBeCloseTo(Math.abs(diameterM / 2 - insertionM), 9)
      }),
    )
  })

  it('are 6 up to 10 in, then 8, and 10 above 0.9 m', () => {
    expect([0.2, 0.254, 0.26, 0.9, 0.91].map(logLinearPoints)).toEqual([6, 6, 8, 8, 10])
    expect(logLinearPoints(Number.NaN)).toBeNull()
  })
})

describe('a traverse that cannot be laid out', () => {
  it('names the field', () => {
    const rectangular = { shape: 'rectangular', widthM: 0.5, heightM: 0.5 } as const
    const round = { shape: 'round', diameterM: 0.5 } as const
    expect(layOutTraverse({ section: { ...round, diameterM: 0 }, rule: 'log_linear', ...own })).toEqual({ problem: 'size' })
    expect(layOutTraverse({ section: { ...rectangular, widthM: -1 }, rule: 'equal_area', ...own })).toEqual({ problem: 'size' })
    expect(layOutTraverse({ section: rectangular, rule: 'log_tchebycheff', lines: 4, pointsPerLine: 5 })).toEqual({ problem: 'lines' })
    expect(layOutTraverse({ section: rectangular, rule: 'log_tchebycheff', lines: 5, pointsPerLine: 8 })).toEqual({
      problem: 'points_per_line',
    })
    expect(layOutTraverse({ section: round, rule: 'log_linear', lines: 5, pointsPerLine: 6 })).toEqual({ problem: 'lines' })
    expect(layOutTraverse({ section: round, rule: 'log_linear', lines: 2, pointsPerLine: 7 })).toEqual({ problem: 'points_per_line' })
    expect(layOutTraverse({ section: round, rule: 'equal_area', lines: 2, pointsPerLine: 5 })).toEqual({ problem: 'points_per_line' })
  })
})

describe('where a duct can be traversed', () => {
  // 40 CFR 60, appendix A-1, Method 1, clause 1.2: not under 0.30 m (0.071 m2), 2 diameters after, half a diameter before, no cyclonic flow
  const good = { straightBeforeM: 4, straightAfterM: 1, cyclonic: false }
  const codes = (...given: Parameters<typeof checkTraversePlace>) => checkTraversePlace(...given).map(({ code, weight }) => [code, weight])

  it('has no remark at 8 diameters after and 2 before', () => {
    expect(codes({ shape: 'round', diameterM: 0.5 }, good)).toEqual([])
  })

  it('refuses what the method refuses, at its very limits', () => {
    expect(codes({ shape: 'round', diameterM: 0.3 }, good)).toEqual([])
    expect(codes({ shape: 'round', diameterM: 0.299 }, good)).toEqual([['too_small', 'unusable']])
    expect(codes({ shape: 'rectangular', widthM: 0.2, heightM: 0.35 }, good)).toEqual([['too_small', 'unusable']])
    expect(codes({ shape: 'round', diameterM: 0.5 }, { ...good, straightBeforeM: 1 })).toEqual([['short_after', 'less_than_ideal']])
    expect(codes({ shape: 'round', diameterM: 0.5 }, { ...good, straightBeforeM: 0.99 })).toEqual([['too_near_after', 'unusable']])
    expect(codes({ shape: 'round', diameterM: 0.5 }, { ...good, straightAfterM: 0.25 })).toEqual([['short_before', 'less_than_ideal']])
    expect(codes({ shape: 'round', diameterM: 0.5 }, { ...good, straightAfterM: 0.24 })).toEqual([['too_near_before', 'unusable']])
    expect(codes({ shape: 'round', diameterM: 0.5 }, { ...good, cyclonic: true })).toEqual([['cyclonic', 'unusable']])
  })

  it('says when the distances were not recorded', () => {
    expect(codes({ shape: 'round', diameterM: 0.5 }, { straightBeforeM: null, straightAfterM: null, cyclonic: null })).toEqual([
      ['not_recorded', 'less_than_ideal'],
    ])
  })

  it('counts in the equivalent diameter 2 L W / (L + W): 0.6 x 0.3 m is 0.4 m', () => {
    expect(equivalentDiameterM({ shape: 'rectangular', widthM: 0.6, heightM: 0.3 })).toBeCloseTo(0.4, 12)
  })
})
