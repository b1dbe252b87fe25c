import { describe, expect, it } from 'vitest'
import { moistAirDensity } from '#core/air/moist-air-density.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { RunInput } from '#core/methods/method.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { aCriterion, anInstrument, entered, uuid } from './face-run.ts'
import { aMeter, roomRun, someAir } from './room-run.ts'

/*
 * Two thermal instruments, one of air at 20 degC and one of air at 25 degC (101 325 Pa, dry): 1.2046 and 1.1844 kg/m3 (CIPM-2007). Each shows 0.2
 * m3/s. The masses are 0.2 x 1.2046 + 0.2 x 1.1844 = 0.4778 kg/s, at 1.2046 kg/m3 0.39665 m3/s; 0.4 m3/s of "standard air" is no sum.
 */
const OTHER = uuid(0xc1)
const state = (temperatureC: number): EntityBody<'instrument'>['standardCondition'] => ({
  temperature: entered(temperatureC, 'degC'),
  pressure: entered(101_325, 'Pa'),
})
const thermal = (temperatureC: number) => aMeter({ basis: 'standard', standardCondition: state(temperatureC) })
const dry = (temperatureC: number) =>
  moistAirDensity({ temperatureC, pressurePa: 101_325, relativeHumidityPercent: 0 })?.densityKgpm3 ?? Number.NaN
const criteria = [
  aCriterion({
    quantity: 'air_changes',
    scope: 'room',
    basis: 'standard',
    form: { kind: 'at_least', limit: { from: 'value', value: entered(20, '1/h') } },
  }),
]

/** The second of two terminals was read with the other instrument. */
function given(second: Partial<EntityBody<'instrument'>> | null, more: Partial<EntityBody<'instrument'>>[] = []): RunInput {
  const base = roomRun(
    [0, 1].map(() => ({ terminal: { face: 'swirl' as const }, readings: [0.2] })),
    { instrument: thermal(20), criteria, run: { conditions: someAir(22, 100_000, 45) } },
  )
  const others = [...(second ? [second] : []), ...more].map((changes, index) => ({
    id: index === 0 ? OTHER : uuid(0xc2 + index),
    revision: 1,
    body: anInstrument(changes),
  }))
  const calibrations = others.flatMap(({ id }) =>
    base.calibrations.map((calibration, index) => ({ ...calibration, id: uuid(0xc8 + index), instrumentId: id })),
  )
  const last = base.values.length - 1
  return {
    ...base,
    instruments: [...base.instruments, ...others],
    calibrations: [...base.calibrations, ...calibrations],
    values: second ? base.values.map((value, index) => (index === last ? { ...value, instrumentId: OTHER } : value)) : base.values,
  }
}

const compute = (input: RunInput) => methodOf('room_airflow').compute(input)

describe('instruments of two standard airs in one room', () => {
  const result = compute(given(thermal(25)))

  it('are not added as standard air: the criterion says why', () => {
    expect(result.room.byBasis?.standard).toBeNull()
    expect(result.roomCriteria[0]).toMatchObject({ verdict: 'not_tested', value: null, reason: { code: 'reason.standards_differ' } })
    expect(result.filters.map(({ byBasis }) => byBasis?.standard?.flowM3ps)).toEqual([expect.closeTo(0.2, 12), expect.closeTo(0.2, 12)])
  })

  it('add up as actual air and as mass at one density', () => {
    const actual = moistAirDensity({ temperatureC: 22, pressurePa: 100_000, relativeHumidityPercent: 45 })?.densityKgpm3 ?? Number.NaN
    expect(result.room.byBasis?.actual?.flowM3ps).toBeCloseTo((0.2 * (dry(20) + dry(25))) / actual, 9)
    expect(result.room.balance?.supplyM3ps).toBeCloseTo((0.2 * (dry(20) + dry(25))) / dry(20), 6)
    expect(result.room.balance?.supplyM3ps).toBeCloseTo(0.39665, 4)
  })
})

describe('instruments of one standard air', () => {
  it('are added, and the balance says the same, also beside an instrument that read no air', () => {
    const silent = anInstrument({ ...aMeter(), standardCondition: null })
    for (const input of [given(thermal(20)), given(null, [silent])]) {
      const { room, air } = compute(input)
      expect(room.byBasis?.standard?.flowM3ps).toBeCloseTo(0.4, 12)
      expect(room.balance?.supplyM3ps).toBeCloseTo(0.4, 9)
      expect(air?.standardKgpm3).toBeCloseTo(dry(20), 9)
    }
  })
})
