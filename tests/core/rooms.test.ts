import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { airChangesPerHour, flowForAirChangesM3ps } from '#core/rooms/air-changes.ts'
import { contains, outlineOf, planAreaM2, roomVolumeM3, terminalCorners, WALL_TERMINAL_DRAWN_DEPTH_M } from '#core/rooms/geometry.ts'
import { aRoom, aTerminal, entered } from './face-run.ts'

// An L: 6 x 4 with a 2 x 2 bite out of its upper right corner; 24 - 4 = 20 m2.
const ELL = [
  { x: 0, y: 0 },
  { x: 6, y: 0 },
  { x: 6, y: 2 },
  { x: 4, y: 2 },
  { x: 4, y: 4 },
  { x: 0, y: 4 },
]

describe('plan shapes', () => {
  it('have an area, whichever way round they were drawn', () => {
    expect(planAreaM2({ kind: 'rectangle', x: 1, y: 1, width: 5, depth: 4 })).toBe(20)
    expect(planAreaM2({ kind: 'polygon', points: ELL })).toBeCloseTo(20, 12)
    expect(planAreaM2({ kind: 'polygon', points: [...ELL].reverse() })).toBeCloseTo(20, 12)
  })

  it('have corners', () => {
    expect(outlineOf({ kind: 'rectangle', x: 1, y: 2, width: 3, depth: 4 })).toEqual([
      { x: 1, y: 2 },
      { x: 4, y: 2 },
      { x: 4, y: 6 },
      { x: 1, y: 6 },
    ])
  })

  it('contain their inside, edges and corners, and not the bite', () => {
    for (const [x, y] of [
      [1, 1],
      [5, 1],
      [1, 3],
      [0, 0],
      [6, 1],
      [4, 3],
      [5, 2],
      [0, 2],
    ] as const)
      expect(contains(ELL, { x, y }), `${x}, ${y}`).toBe(true)
    for (const [x, y] of [
      [5, 3],
      [6.001, 1],
      [-0.001, 1],
      [4.001, 2.001],
    ] as const)
      expect(contains(ELL, { x, y }), `${x}, ${y}`).toBe(false)
  })
})

describe('room volume', () => {
  it('is plan area times ceiling height', () => {
    expect(roomVolumeM3(aRoom())).toBeCloseTo(60, 12)
    expect(roomVolumeM3(aRoom({ shape: { kind: 'polygon', points: ELL }, ceilingHeight: entered(2.5, 'm') }))).toBeCloseTo(50, 12)
  })

  it('is what was stated, where a reason stands beside it', () => {
    expect(roomVolumeM3(aRoom({ statedVolume: { volume: entered(42, 'm3'), reason: 'sloping ceiling' } }))).toBe(42)
  })
})

describe('terminals on the plan', () => {
  const close = (x: number, y: number) => ({ x: expect.closeTo(x, 12), y: expect.closeTo(y, 12) })

  it('turn clockwise about their centre', () => {
    // 1.2 wide, 0.6 deep at (2, 3); a quarter turn clockwise takes the lower left corner to the upper left
    const terminal = aTerminal({ x: 2, y: 3, grossWidth: entered(1.2, 'm'), grossDepth: entered(0.6, 'm') })
    expect(terminalCorners(terminal)[0]).toEqual(close(1.4, 2.7))
    expect(terminalCorners({ ...terminal, rotationDegrees: 90 })[0]).toEqual(close(1.7, 3.6))
  })

  it('on a wall show their width, and a depth to be picked by', () => {
    const corners = terminalCorners(aTerminal({ mounting: 'wall', x: 0, y: 0, grossWidth: entered(1, 'm'), grossDepth: entered(0.5, 'm') }))
    expect(corners[0]).toEqual(close(-0.5, -WALL_TERMINAL_DRAWN_DEPTH_M / 2))
  })

  it('keep their area however they are turned', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 359.9, noNaN: true }), (rotationDegrees) => {
        const points = terminalCorners(aTerminal({ rotationDegrees }))
        expect(planAreaM2({ kind: 'polygon', points })).toBeCloseTo(1.22 * 0.61, 9)
      }),
    )
  })
})

describe('air changes', () => {
  it('are none without a volume, and undo themselves', () => {
    expect(airChangesPerHour(0.5, 0)).toBeNull()
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 600, noNaN: true }), fc.double({ min: 1, max: 5000, noNaN: true }), (perHour, volumeM3) => {
        expect(airChangesPerHour(flowForAirChangesM3ps(perHour, volumeM3), volumeM3)).toBeCloseTo(perHour, 8)
      }),
    )
  })
})
