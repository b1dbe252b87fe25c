import { describe, expect, it } from 'vitest'
import { computeFaceVelocityGrid } from '#core/methods/airflow/face-velocity-grid.ts'
import { airChangesPerHour, flowForAirChangesM3ps } from '#core/rooms/air-changes.ts'
import { fromSi, toSi } from '#core/units/units.ts'
import { entered, faceRun } from '#tests/core/face-run.ts'

/** A room of the given size in feet, supplied by one filter of 4 ft2 with the velocity that gives the flow. */
function roomInFeet(width: number, depth: number, height: number, cfm: number) {
  const velocity = toSi(cfm / 4, 'ft/min')
  return computeFaceVelocityGrid(
    faceRun({
      room: {
        shape: { kind: 'rectangle', x: 0, y: 0, width: toSi(width, 'ft'), depth: toSi(depth, 'ft') },
        ceilingHeight: entered(height, 'ft'),
      },
      filters: [{ readings: [velocity, velocity, velocity, velocity], terminal: { effectiveArea: entered(4, 'ft2') } }],
    }),
  ).room
}

describe('air changes per hour', () => {
  // Published worked examples of ACH = 60 cfm / ft3, seen in public web pages (calculation guides for clean rooms):
  // 10 x 20 x 10 ft with 600 cfm: 18; 20 x 15 x 10 ft with 1200 cfm: 24; 3000 ft3 at 40 per hour: 2000 cfm; 1000 ft3, 500 cfm: 30.
  it.each([
    [10, 20, 10, 600, 18],
    [20, 15, 10, 1200, 24],
    [10, 10, 10, 500, 30],
  ])('a room of %s x %s x %s ft with %s cfm has %s', (width, depth, height, cfm, perHour) => {
    const room = roomInFeet(width, depth, height, cfm)
    expect(room.airChangesPerHour).toBeCloseTo(perHour, 9)
    expect(fromSi(room.supplyFlowM3ps ?? 0, 'cfm')).toBeCloseTo(cfm, 8)
  })

  it('40 per hour in 3000 ft3 take 2000 cfm', () => {
    expect(fromSi(flowForAirChangesM3ps(40, toSi(3000, 'ft3')), 'cfm')).toBeCloseTo(2000, 8)
  })

  it('in metric units is m3/h over m3: 1260 m3/h in 60 m3 is 21', () => {
    // first principles: 1260 / 60 = 21
    expect(airChangesPerHour(toSi(1260, 'm3/h'), 60)).toBeCloseTo(21, 12)
  })

  // CDC, Guidelines for Environmental Infection Control in Health-Care Facilities (2003), appendix B, table B.1:
  // minutes to remove 99 % and 99.9 % at Q / V air changes per hour, t = -ln(C2 / C1) / (Q / V) x 60.
  it.each([
    [2, 138, 207],
    [4, 69, 104],
    [6, 46, 69],
    [8, 35, 52],
    [10, 28, 41],
    [12, 23, 35],
    [15, 18, 28],
    [20, 14, 21],
    [50, 6, 8],
  ])('give the removal times of the published table at %s per hour', (perHour, minutes99, minutes999) => {
    // a room of 3000 ft3 with the cfm that the table's definition Q / V asks for
    const found = roomInFeet(20, 15, 10, (perHour * 3000) / 60).airChangesPerHour ?? 0
    expect(Math.round((-Math.log(0.01) / found) * 60)).toBe(minutes99)
    expect(Math.round((-Math.log(0.001) / found) * 60)).toBe(minutes999)
  })
})
