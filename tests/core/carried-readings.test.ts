import { describe, expect, it } from 'vitest'
import { withCarried } from '#core/methods/airflow/carried-readings.ts'
import { computeFaceVelocityGrid } from '#core/methods/airflow/face-velocity-grid.ts'
import type { RunInput } from '#core/methods/method.ts'
import { entered, faceRun, terminalId, uuid } from './face-run.ts'
import { someAir } from './room-run.ts'

const FOUND = uuid(0xe1)
const STANDARD = { basis: 'standard' as const, standardCondition: { temperature: entered(20, 'degC'), pressure: entered(101_325, 'Pa') } }
const because = 'not touched'

function asLeft(readings: readonly (readonly (number | null)[])[], run = {}): RunInput {
  const carried = [{ terminalIds: [terminalId(1)], fromRunId: FOUND, reason: because, fanOrMainDamperMoved: false }]
  return faceRun({ filters: readings.map((one) => ({ readings: one })), instrument: STANDARD, run: { phase: 'as_left', carried, ...run } })
}
const asFound = (readings: readonly (readonly number[])[], run = {}): RunInput =>
  faceRun({ filters: readings.map((one) => ({ readings: one })), instrument: STANDARD, run })

describe('as-found readings in an as-left run', () => {
  const found = asFound([
    [0.3, 0.3],
    [0.4, 0.5],
  ])
  const carried = withCarried(
    asLeft([
      [0.45, 0.47],
      [null, null],
    ]),
    [{ terminalIds: [terminalId(1)], from: found }],
  )

  it('complete it, marked and with the reason', () => {
    const result = computeFaceVelocityGrid(carried)
    expect(result.filters.map((filter) => [filter.meanVelocityMps, filter.carried])).toEqual([
      [0.45999999999999996, false],
      [0.45, true],
    ])
    expect(result.filters[1]?.notes).toEqual([{ code: 'note.carried_because', params: { because } }])
    expect(result.room.supplyFlowM3ps).not.toBeNull()
  })

  it('stand at the points of this run where the layouts agree', () => {
    expect(carried.locations.map(({ number }) => number)).toEqual([1, 2, 3, 4])
    expect(carried.values.filter(({ flags }) => flags.includes('carried')).map(({ point, si }) => [point, si])).toEqual([
      [3, 0.4],
      [4, 0.5],
    ])
  })

  it('bring their own points where the grid was another', () => {
    const finer = asFound([[0.3], [0.4, 0.5, 0.6]])
    const result = computeFaceVelocityGrid(withCarried(asLeft([[0.45], [null, null]]), [{ terminalIds: [terminalId(1)], from: finer }]))
    expect(result.filters[1]).toMatchObject({ pointsPlanned: 3, pointsMeasured: 3, meanVelocityMps: 0.5 })
  })

  it('never take the place of a reading of this run, and carry nothing that was not measured', () => {
    const measured = asLeft([
      [0.45, 0.47],
      [0.6, null],
    ])
    expect(withCarried(measured, [{ terminalIds: [terminalId(1)], from: found }]).values).toEqual(measured.values)
    const nothing = asFound([[0.3, 0.3], []])
    expect(withCarried(asLeft([[0.45], [null]]), [{ terminalIds: [terminalId(1)], from: nothing }]).values).toHaveLength(1)
  })

  it('are converted with the air in which they were taken', () => {
    const thin = asFound([[0.3], [0.4]], { conditions: someAir(20, 80_000, 0) })
    const dense = asLeft([[0.4], [null]], { conditions: someAir(20, 101_325, 0) })
    const result = computeFaceVelocityGrid(withCarried(dense, [{ terminalIds: [terminalId(1)], from: thin }]))
    // Dry air at one temperature: density goes as pressure, 101 325 / 80 000 = 1.26656 (compressibility 1e-4).
    expect(result.filters[0]?.meanVelocityMps).toBeCloseTo(0.4, 9)
    expect(result.filters[1]?.meanVelocityMps).toBeCloseTo(0.4 * 1.26656, 3)
  })
})
