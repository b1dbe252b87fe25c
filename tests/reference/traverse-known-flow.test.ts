import { describe, expect, it } from 'vitest'
import { methodOf } from '#core/methods/catalogue.ts'
import type { Duct } from '#core/model/terminals.ts'
import { entered } from '../core/face-run.ts'
import { aDuct, type GivenTerminal, roomRun, someAir } from '../core/room-run.ts'

/*
 * Ducts whose flow is known exactly, measured in a run. Power law of turbulent flow in a pipe, v = vc (1 - r / R)^(1 / n), integrated by hand:
 *   mean = vc 2 n^2 / ((n + 1)(2 n + 1)); n = 7: 49/60 vc. (Power law: textbook fluid mechanics, n from 6 to 10; from memory.)
 * Rectangular, the product of two such profiles between plane walls: mean = vc (n / (n + 1))^2.
 * A rule's own error is what its few points miss of that mean.
 */
const CENTRE_MPS = 8

type GivenDuct = Pick<Duct, 'section' | 'rule'> & Partial<Duct>

const inDuct = (duct: Partial<Duct>): GivenTerminal['terminal'] => ({ kind: 'duct_section', mounting: 'duct', duct: aDuct(duct) })

/** The result of a run that read a duct, point by point in the order of its layout. */
function read(duct: Partial<Duct>, readings: GivenTerminal['readings'], more: Parameters<typeof roomRun>[1] = {}) {
  const [filter] = methodOf('room_airflow').compute(roomRun([{ terminal: inDuct(duct), readings }], more)).filters
  if (!filter) throw new Error('no duct in the result')
  return filter
}

/** The flow that a run finds in a duct with this velocity at each place, offsets in m from the centre of the section. */
function foundM3ps(duct: GivenDuct, velocityAt: (offsetXM: number, offsetYM: number) => number): number {
  const whole = { lines: null, pointsPerLine: null, ...duct }
  const { terminals } = roomRun([{ terminal: inDuct(whole), readings: [] }])
  const locations = methodOf('room_airflow').layOut({ terminals, facingDegrees: 0, gridFor: new Map() })
  const filter = read(
    whole,
    locations.map(({ offsetXM, offsetYM }) => velocityAt(offsetXM, offsetYM)),
  )
  expect(filter).toMatchObject({ way: 'duct_traverse', basis: 'actual', pointsPlanned: locations.length, pointsMeasured: locations.length })
  return filter.flowM3ps ?? Number.NaN
}

function roundError(rule: 'log_linear' | 'equal_area', pointsPerLine: number, n: number): number {
  const found = foundM3ps(
    { section: { shape: 'round', diameter: entered(0.4, 'm') }, rule, lines: 2, pointsPerLine },
    (x, y) => CENTRE_MPS * (1 - Math.hypot(x, y) / 0.2) ** (1 / n),
  )
  const exact = ((CENTRE_MPS * 2 * n * n) / ((n + 1) * (2 * n + 1))) * Math.PI * 0.2 ** 2
  return found / exact - 1
}

function rectangularError(rule: 'log_tchebycheff' | 'equal_area', lines: number, n: number): number {
  const [widthM, heightM] = [0.8, 0.5]
  const profile = (offset: number, side: number) => (1 - Math.abs(offset) / (side / 2)) ** (1 / n)
  const section = { shape: 'rectangle', width: entered(widthM, 'm'), height: entered(heightM, 'm') } as const
  const found = foundM3ps({ section, rule, lines, pointsPerLine: lines }, (x, y) => CENTRE_MPS * profile(x, widthM) * profile(y, heightM))
  return found / (CENTRE_MPS * (n / (n + 1)) ** 2 * widthM * heightM) - 1
}

describe('a traverse of a round duct whose flow is known', () => {
  it.each([6, 7, 8, 9, 10])('log-linear is within 0.5 %% for n = %s', (n) => {
    for (const points of [6, 8, 10]) expect(Math.abs(roundError('log_linear', points, n))).toBeLessThan(0.005)
  })

  it('equal rings read high, by less with every more point: under 1.5 % with 6, 0.7 % with 12', () => {
    const errors = [6, 8, 10, 12].map((points) => roundError('equal_area', points, 7))
    for (const [index, error] of errors.entries()) {
      expect(error).toBeGreaterThan(0)
      expect(error).toBeLessThan(errors[index - 1] ?? 0.015)
    }
    expect(errors.at(-1)).toBeLessThan(0.007)
  })

  it('a flat profile is exact by every rule', () => {
    const section = { shape: 'round', diameter: entered(0.3, 'm') } as const
    for (const rule of ['log_linear', 'equal_area'] as const)
      expect(foundM3ps({ section, rule }, () => 5)).toBeCloseTo(5 * Math.PI * 0.15 ** 2, 12)
  })
})

describe('a traverse of a rectangular duct whose flow is known', () => {
  it.each([6, 7, 8, 9, 10])('log-Tchebycheff is within 1 %% for n = %s', (n) => {
    for (const lines of [5, 6, 7]) expect(Math.abs(rectangularError('log_tchebycheff', lines, n))).toBeLessThan(0.01)
  })

  it('equal areas read high, and miss more than log-Tchebycheff with as many lines', () => {
    for (const lines of [5, 6, 7]) {
      const error = rectangularError('equal_area', lines, 7)
      expect(error).toBeGreaterThan(Math.abs(rectangularError('log_tchebycheff', lines, 7)))
      expect(error).toBeLessThan(0.04)
    }
  })

  it('a flat profile is exact by every rule', () => {
    const section = { shape: 'rectangle', width: entered(0.8, 'm'), height: entered(0.5, 'm') } as const
    for (const rule of ['log_tchebycheff', 'equal_area'] as const) expect(foundM3ps({ section, rule }, () => 5)).toBeCloseTo(2, 12)
  })
})

/*
 * Bernoulli, p = rho v^2 / 2. As indicated a run takes dry air of 20 degC and 101 325 Pa: 101 325 x 0.0289655 / (8.314462 x 293.15) = 1.2041,
 * over the compressibility 0.99963: 1.2046 kg/m3. The duct of aDuct has 2 x 2 points in 0.2 m2.
 */
const INDICATED_KGPM3 = 1.2046
const pressurePa = (velocityMps: number, densityKgpm3 = INDICATED_KGPM3) => (Math.sign(velocityMps) * densityKgpm3 * velocityMps ** 2) / 2

describe('velocity pressures', () => {
  const byPitot = { measures: 'velocity_pressure' } as const

  it('are turned into velocities before they are averaged: the root of the mean pressure would read high', () => {
    // first principles: for 4 and 8 m/s the mean is 6; the root of the mean square is sqrt(40) = 6.325
    const duct = read(
      byPitot,
      [4, 8, 4, 8].map((velocity) => pressurePa(velocity)),
    )
    expect(duct.meanVelocityMps).toBeCloseTo(6, 3)
    expect(duct.flowM3ps).toBeCloseTo(1.2, 3)
  })

  it('are those of the air in the duct where the run has its conditions, and samples at a point are velocities, too', () => {
    // Dry air of 20 degC at 81 060 Pa, four fifths of an atmosphere: 0.8 x 1.2046 = 0.96368 kg/m3 (compressibility 1e-4).
    const [slow, fast] = [pressurePa(4, 0.8 * INDICATED_KGPM3), pressurePa(8, 0.8 * INDICATED_KGPM3)]
    const duct = read(byPitot, [[slow, fast], slow, fast, [fast, slow]], {
      run: { conditions: someAir(20, 81_060, 0), samplesPerPoint: 2 },
    })
    expect(duct.basis).toBe('actual')
    expect(duct.meanVelocityMps).toBeCloseTo(6, 2)
    // The tube's display for denser air reads low by the root of 0.8.
    expect(duct.byBasis?.as_indicated.meanVelocityMps).toBeCloseTo(6 * Math.sqrt(0.8), 3)
  })

  it('keep their sign: a point of reversed flow is subtracted and named', () => {
    const duct = read(byPitot, [pressurePa(10), pressurePa(10), pressurePa(-10), null])
    expect(duct.meanVelocityMps).toBeCloseTo(10 / 3, 3)
    expect(duct.pointMeansMps.map(({ meanMps }) => meanMps && Math.round(meanMps * 1000) / 1000)).toEqual([10, 10, -10, null])
    expect(duct).toMatchObject({ pointsMeasured: 3, pointsPlanned: 4 })
    expect(duct.notes).toEqual(
      expect.arrayContaining([
        { code: 'note.reversed', params: { points: 1 } },
        { code: 'note.incomplete', params: { measured: 3, planned: 4 } },
        { code: 'note.traverse_so_far', params: {} },
      ]),
    )
  })

  it('are told where they are too weak for a pitot tube: under 5 Pa, or under 3 m/s', () => {
    // 5.3 Pa are sqrt(10.6 / 1.2046) = 2.97 m/s, 5.5 Pa are 3.02 m/s (limits: common practice)
    const weak = (pressures: readonly number[]) => read(byPitot, pressures).notes.find(({ code }) => code === 'note.weak_for_pitot')
    expect(weak([60, 4, 60, 5.3])?.params).toEqual({ readings: 2 })
    expect(weak([60, 5.5, 60, 60])).toBeUndefined()
  })
})

describe('velocities', () => {
  it('keep the sign of a duct that flows backwards', () => {
    const duct = read({}, [-4, -6, -4, -6])
    expect(duct.meanVelocityMps).toBe(-5)
    expect(duct.flowM3ps).toBeCloseTo(-1, 12)
    expect(duct.notes).toContainEqual({ code: 'note.reversed', params: { points: 4 } })
  })

  it('have no mean and no flow without a point', () => {
    expect(read({}, [null, null, null, null])).toMatchObject({ meanVelocityMps: null, flowM3ps: null, pointsMeasured: 0, pointsPlanned: 4 })
  })
})
