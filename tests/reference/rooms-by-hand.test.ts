import { describe, expect, it } from 'vitest'
import { methodOf } from '#core/methods/catalogue.ts'
import type { RunInput } from '#core/methods/method.ts'
import { aCriterion, entered, faceRun } from '#tests/core/face-run.ts'
import { aDuct, aMeter, roomRun, someAir } from '#tests/core/room-run.ts'

/*
 * Whole rooms worked by hand. The arithmetic stands beside each; CLOSE allows for what the ideal gas leaves out of the density (4e-4).
 * Sources: conservation of mass, Bernoulli, standard atmosphere as ASHRAE Handbook Fundamentals 2017 chapter 1 (from memory).
 */
const CLOSE = 6e-4

function compute(input: RunInput) {
  return methodOf(input.run.method).compute(input)
}

function expectClose(found: number | null | undefined, byHand: number, within = CLOSE) {
  expect(Math.abs((found ?? Number.NaN) / byHand - 1)).toBeLessThan(within)
}

/*
 * 1600 m, 20 degC, 50 %: 83 523 Pa by the standard atmosphere, 0.98735 kg/m3 (site-at-altitude.test.ts). A thermal probe with the standard
 * condition 21.1 degC, 101 325 Pa (1.1997 kg/m3) shows 0.45 m/s at every point of eight filters of 0.605 m2 in a room of 150 m3:
 *   v = 0.45 x 1.1997 / 0.98735 = 0.5468 m/s; Q = 8 x 0.605 x 0.5468 = 2.6465 m3/s; 3600 x 2.6465 / 150 = 63.52 per hour
 *   as shown: 8 x 0.605 x 0.45 = 2.178 m3/s; 52.27 per hour
 */
describe('a room at 1600 m', () => {
  const perHour = (basis: 'actual' | 'standard' | 'as_indicated', low: number) =>
    aCriterion({
      key: `ach_${basis}`,
      quantity: 'air_changes',
      scope: 'room',
      basis,
      form: { kind: 'at_least', limit: { from: 'value', value: entered(low, '1/h') } },
    })
  const thermal = {
    basis: 'standard' as const,
    standardCondition: { temperature: entered(21.1, 'degC'), pressure: entered(101_325, 'Pa') },
  }
  const room = { statedVolume: { volume: entered(150, 'm3'), reason: 'surveyed' } }
  const filters = Array.from({ length: 8 }, () => ({
    terminal: { effectiveArea: entered(0.605, 'm2') },
    readings: [0.45, 0.45, 0.45, 0.45],
  }))
  const criteria = [perHour('actual', 60), perHour('standard', 60), perHour('as_indicated', 60)]
  const result = compute(
    faceRun({ filters, criteria, room, instrument: thermal, facilityAltitudeM: 1600, run: { conditions: someAir(20, null, 50) } }),
  )

  it('has its air changes from actual flow, and both flows side by side', () => {
    expect(result.basis).toBe('actual')
    expectClose(result.room.airChangesPerHour, 63.52)
    expectClose(result.room.byBasis?.actual?.flowM3ps, 2.6465)
    expect(result.room.byBasis?.as_indicated.flowM3ps).toBeCloseTo(2.178, 12)
    expect(result.room.byBasis?.standard?.flowM3ps).toBeCloseTo(2.178, 12)
    expectClose(result.filters[0]?.meanVelocityMps, 0.5468)
    expect(result.filters[0]).toMatchObject({ basis: 'actual', byBasis: { as_indicated: { meanVelocityMps: 0.45 } } })
  })

  it('judges each criterion on the air it asks for, and names it', () => {
    expect(result.roomCriteria.map(({ verdict, basis }) => [basis, verdict])).toEqual([
      ['actual', 'pass'],
      ['standard', 'fail'],
      ['as_indicated', 'fail'],
    ])
    expectClose(result.roomCriteria[0]?.value, 63.52)
    expect(result.roomCriteria[1]?.value).toBeCloseTo(52.272, 9)
  })

  it('shows the air that it converted with', () => {
    expectClose(result.air?.actualKgpm3, 0.98735)
    expectClose(result.air?.standardKgpm3, 1.1997)
    expect(result.air?.pressureFrom).toBe('altitude')
    expect(result.air?.remarks.map(({ code }) => code)).toEqual(['air.pressure_from_altitude'])
  })

  it('has no actual flow without a temperature, and says what is missing', () => {
    const bare = compute(faceRun({ filters, criteria, room, instrument: thermal, facilityAltitudeM: 1600 }))
    expect(bare).toMatchObject({ basis: 'as_indicated', room: { byBasis: { actual: null } } })
    expect(bare.roomCriteria.map(({ verdict, reason }) => [verdict, reason.code])).toEqual([
      ['not_tested', 'reason.no_conditions'],
      ['fail', 'reason.judged'],
      ['fail', 'reason.judged'],
    ])
  })

  it('leaves an old run, which pinned no facility, as it was', () => {
    const old = compute(
      faceRun({ filters, criteria: [perHour('as_indicated', 50)], room, instrument: thermal, run: { conditions: someAir(20, null, 50) } }),
    )
    expect(old.room.airChangesPerHour).toBeCloseTo(52.272, 9)
    expect(old.roomCriteria[0]).toMatchObject({ verdict: 'pass', basis: 'as_indicated' })
  })

  it('asks about a pressure that a weather report gave', () => {
    const input = faceRun({ filters, instrument: thermal, facilityAltitudeM: 1600, run: { conditions: someAir(20, 101_300, 50) } })
    expect(compute(input).air?.remarks.map(({ code }) => code)).toEqual(['air.pressure_of_sea_level'])
  })
})

/*
 * A room at 20 degC, 101 325 Pa, 50 % (1.1993 kg/m3), all by instruments that read actual air.
 *   supply: hood on a swirl diffuser shows 0.200 m3/s, its factor there 1.10 -> 0.220; four velocities 0.40 0.44 0.46 0.50 (mean 0.45) over
 *   0.70 m2 -> 0.315; total 0.535. Return by hood 0.300 (a hood may show it as -0.300), exhaust by an orifice with 0.02 m3/s at one
 *   pascal for 1.2 kg/m3: 100 Pa -> 0.02 x 10 x sqrt(1.2 / 1.1993) = 0.20006. Offset 0.535 - 0.300 - 0.20006 = 0.03494 m3/s at the
 *   room's density, 6.531 % of supply. Volume 60 m3: 3600 x 0.535 / 60 = 32.1 per hour.
 */
describe('a room measured by four ways', () => {
  const hoodFactors = [
    {
      face: 'swirl' as const,
      low: entered(0.1, 'm3/s'),
      high: entered(0.5, 'm3/s'),
      factor: 1.1,
      uncertaintyPercent: 3,
      reason: 'traverse',
    },
  ]
  const offset = (quantity: 'air_offset' | 'air_offset_percent', low: number) =>
    aCriterion({
      key: quantity,
      quantity,
      scope: 'room',
      basis: 'actual',
      form: { kind: 'at_least', limit: { from: 'value', value: entered(low, quantity === 'air_offset' ? 'm3/s' : '%') } },
    })
  const terminals = [
    { terminal: { face: 'swirl' as const }, readings: [0.2] },
    { terminal: { grid: { rows: 2, columns: 2 } }, readings: [0.4, 0.44, 0.46, 0.5] },
    { terminal: { kind: 'return_grille' as const, face: 'grille' as const }, readings: [-0.3] },
    {
      terminal: {
        kind: 'exhaust_grille' as const,
        face: 'grille' as const,
        measuredBy: 'flow_element' as const,
        flowElement: { kind: 'stated' as const, flowAtOnePascal: entered(0.02, 'm3/s'), statedDensityKgpm3: 1.2, uncertaintyPercent: null },
      },
      readings: [100],
    },
  ]
  const input = roomRun(terminals, {
    criteria: [offset('air_offset', 0.03), offset('air_offset_percent', 7)],
    instrument: aMeter({ hoodFactors, reportsReverseFlow: true }),
    run: { conditions: someAir(20, 101_325, 50) },
  })
  const result = compute(input)

  it('has each flow by its way', () => {
    expect(result.filters.map(({ way, direction }) => [way, direction])).toEqual([
      ['hood', 'supply'],
      ['face_grid', 'supply'],
      ['hood', 'return'],
      ['flow_element', 'exhaust'],
    ])
    const [hood, grid, back, orifice] = result.filters
    expect(hood?.flowM3ps).toBeCloseTo(0.22, 12)
    expect(hood).toMatchObject({ hoodFactor: 1.1, meanVelocityMps: null })
    expect(grid?.flowM3ps).toBeCloseTo(0.315, 12)
    expect(back?.flowM3ps).toBeCloseTo(0.3, 12)
    expectClose(orifice?.flowM3ps, 0.20006)
    expect(back?.notes.map(({ code }) => code)).toContain('note.no_hood_factor')
  })

  it('has the room from supply alone, and its balance from everything', () => {
    expect(result.room.supplyFlowM3ps).toBeCloseTo(0.535, 12)
    expect(result.room.airChangesPerHour).toBeCloseTo(32.1, 9)
    expectClose(result.room.balance?.offsetAtRoomM3ps, 0.03494, 5e-3)
    expectClose(result.room.balance?.offsetPercentOfSupply, 6.531, 5e-3)
    expect(result.room.balance).toMatchObject({ basis: 'standard', missingTerminalIds: [], recirculatedM3ps: 0 })
  })

  it('holds the offset against its limits', () => {
    expect(result.roomCriteria.map(({ key, verdict }) => [key, verdict])).toEqual([
      ['air_offset', 'pass'],
      ['air_offset_percent', 'fail'],
    ])
  })

  it('says that sums of what was shown are no mass balance, where nobody recorded the air', () => {
    const bare = compute({ ...input, run: { ...input.run, conditions: someAir(null, null, null) } })
    expect(bare.room.balance?.basis).toBe('as_indicated')
    expect(bare.room.balance?.offsetM3ps).toBeCloseTo(0.535 - 0.3 - 0.2, 12)
    expect(bare.roomCriteria.map(({ reason }) => reason.code)).toEqual(['reason.no_conditions', 'reason.no_conditions'])
  })
})

/*
 * A duct of 0.5 x 0.4 m traversed at four equal areas with a pitot tube, 1.2 kg/m3 nearly (20 degC, 101 325 Pa, 50 %: 1.1993): pressures
 * 15, 21.6, 29.4, 38.4 Pa give sqrt(2 p / 1.2) = 5, 6, 7, 8 m/s at 1.2, so 6.5 m/s in the mean, times sqrt(1.2 / 1.1993) = 1.00029 -> 6.5019
 * m/s and 0.2 m2 x 6.5019 = 1.3004 m3/s. The root of the mean pressure, sqrt(2 x 26.1 / 1.2) = 6.595, reads 1.5 % high.
 */
describe('a traverse by pitot tube', () => {
  const duct = aDuct({ measures: 'velocity_pressure', countsInRoom: true })
  const terminals = [
    {
      terminal: { kind: 'duct_section' as const, mounting: 'duct' as const, duct, face: 'bare' as const },
      readings: [15, 21.6, 29.4, 38.4],
    },
    { terminal: { face: 'swirl' as const }, readings: [0.6] },
    { terminal: { kind: 'fan_filter_unit' as const, airSource: 'recirculated' as const, face: 'swirl' as const }, readings: [0.1] },
  ]
  const result = compute(roomRun(terminals, { run: { conditions: someAir(20, 101_325, 50) } }))

  it('averages velocities, and multiplies by the inside area', () => {
    expect(result.filters[0]).toMatchObject({ way: 'duct_traverse', effectiveAreaM2: 0.2, pointsMeasured: 4 })
    expectClose(result.filters[0]?.meanVelocityMps, 6.5019)
    expectClose(result.filters[0]?.flowM3ps, 1.3004)
  })

  it('stands for the supply from the air handler; what only goes round in the room counts beside it', () => {
    expectClose(result.room.supplyFlowM3ps, 1.3004 + 0.1)
    expectClose(result.room.balance?.supplyM3ps, (1.3004 * 1.1993) / 1.2046)
    expect(result.room.balance?.recirculatedM3ps).toBeGreaterThan(0)
    expect(result.filters[1]?.notes).toContainEqual({ code: 'note.stood_for_by_duct', params: { ducts: 'T-01' } })
    expect(result.filters[2]?.notes.map(({ code }) => code)).not.toContain('note.stood_for_by_duct')
  })
})
