import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { judgePoints } from '#renderer/readings/cell-look.ts'
import { roomFor, roomForDraft, sharedForm } from '#renderer/readings/number-form.ts'

describe('a point against its limits', () => {
  // 0.36 to 0.54 m/s of actual air. The air is 8 % thinner than the instrument's standard: a mean of 0.40 m/s as indicated is 0.432 m/s.
  const judged = {
    basis: 'actual',
    byBasis: {
      as_indicated: { meanVelocityMps: 0.4, flowM3ps: null },
      standard: { meanVelocityMps: 0.4, flowM3ps: null },
      actual: { meanVelocityMps: 0.432, flowM3ps: null },
    },
    criteria: [{ quantity: 'face_velocity', scope: 'filter', verdict: 'pass', low: 0.36, high: 0.54, basis: 'actual' }],
    // Typed 0.33 m/s; the certificate corrects it to 0.335 m/s, and 0.335 x 1.08 = 0.3618 m/s. Typed 0.32 m/s: 0.325 x 1.08 = 0.351 m/s.
    pointMeansMps: [
      { point: 1, meanMps: 0.3618 },
      { point: 2, meanMps: 0.351 },
      { point: 3, meanMps: null },
    ],
  } as const

  test('is seen with its velocity as calculated, not as typed', () => {
    const { outside } = judgePoints({ result: { ...judged, pointMeansMps: [...judged.pointMeansMps] }, zone: null })
    // As typed it would lie below: 0.36 / 1.08 = 0.3333 m/s.
    expect(outside(1, 0.33)).toBeNull()
    expect(outside(2, 0.32)).toBe('below')
  })

  test('is seen as typed where the calculation leaves it out, against limits as the instrument would indicate them', () => {
    const { limits, outside } = judgePoints({ result: { ...judged, pointMeansMps: [...judged.pointMeansMps] }, zone: null })
    // 0.36 / 1.08 and 0.54 / 1.08
    expect(limits.low).toBeCloseTo(0.3333, 4)
    expect(limits.high).toBeCloseTo(0.5, 12)
    expect(outside(3, 0.33)).toBe('below')
    expect(outside(3, 0.51)).toBe('above')
  })

  test('of the plane of a zone is seen in the same way', () => {
    const { pointMeansMps, ...rest } = judged
    const { outside } = judgePoints({ result: null, zone: { ...rest, planeCells: pointMeansMps } })
    expect(outside(1, 0.33)).toBeNull()
    expect(outside(2, 0.32)).toBe('below')
  })
})

test('a limit on the mean of a zone marks no point where a criterion speaks of points', () => {
  const byBasis = { as_indicated: { meanVelocityMps: 0.4, flowM3ps: null }, standard: null, actual: null }
  const mean = { quantity: 'face_velocity', scope: 'zone', verdict: 'pass', low: 0.36, high: 0.54, basis: 'as_indicated' } as const
  // within 20 % of a mean of 0.40 m/s
  const points = { ...mean, scope: 'point', low: 0.32, high: 0.48 } as const
  const zone = (criteria: readonly (typeof mean | typeof points)[]) =>
    judgePoints({ result: null, zone: { basis: 'as_indicated', byBasis, criteria, planeCells: [{ point: 1, meanMps: 0.33 }] } })
  expect(zone([mean]).outside(1, 0.33)).toBe('below')
  expect(zone([mean, points]).outside(1, 0.33)).toBeNull()
  expect(zone([mean, points]).limits).toEqual({ low: 0.32, high: 0.48 })
})

describe('numbers of one stage', () => {
  test('have their decimal signs in line', () => {
    const shared = sharedForm(['0.46', '10.3', '9'])
    expect(shared).toEqual({ whole: 2, fraction: 2 })
    expect(roomFor('0.46', shared)).toEqual({ before: 1, after: 0, width: 4.5 })
    expect(roomFor('10.3', shared)).toEqual({ before: 0, after: 1, width: 4.5 })
    // Without a sign there is room for it as well, half a digit wide.
    expect(roomFor('9', shared)).toEqual({ before: 1, after: 2.5, width: 4.5 })
    expect(roomFor('0,46', shared)).toEqual(roomFor('0.46', shared))
    expect(roomFor('-0.46', sharedForm(['-0.46', '0.46']))).toMatchObject({ before: 0 })
  })

  test('never shift while one of them is typed', () => {
    const number = fc.integer({ min: 0, max: 99_999 }).map((hundredths) => (hundredths / 100).toFixed(2))
    fc.assert(
      fc.property(fc.array(number, { minLength: 1, maxLength: 9 }), (texts) => {
        const shared = sharedForm(texts)
        const [first = ''] = texts
        for (let length = 1; length <= first.length; length += 1) {
          const { before, width } = roomForDraft(first.slice(0, length), shared)
          expect(before).toBe(0)
          expect(width).toBe(shared.whole + 0.5 + shared.fraction)
        }
      }),
    )
  })
})
