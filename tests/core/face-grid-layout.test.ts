import fc from 'fast-check'
import { expect, test } from 'vitest'
import { inPathOrder, layOutFaceGrid } from '#core/methods/airflow/layout.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import { contains, terminalCorners } from '#core/rooms/geometry.ts'

type Terminal = EntityBody<'terminal'>
type Facing = 0 | 90 | 180 | 270
const FACINGS: readonly Facing[] = [0, 90, 180, 270]

function filter(tag: string, more: Partial<Terminal> = {}): Terminal {
  return {
    tag,
    kind: 'supply_filter',
    zoneId: null,
    x: 0,
    y: 0,
    rotationDegrees: 0,
    mounting: 'ceiling',
    grossWidth: { si: 0.6, typed: '0.6', unit: 'm' },
    grossDepth: { si: 1.2, typed: '1.2', unit: 'm' },
    effectiveArea: { si: 0.66, typed: '0.66', unit: 'm2' },
    face: 'bare',
    airSource: 'air_handler',
    designVelocity: null,
    designFlow: null,
    correctionFactor: null,
    grid: null,
    closed: null,
    ...LATER_FIELDS.terminal,
    note: '',
    ...more,
  }
}

function layOut(terminals: readonly Terminal[], facingDegrees: Facing = 0) {
  const pinned = terminals.map((body) => ({ id: body.tag, revision: 1, body }))
  return layOutFaceGrid({ terminals: pinned, facingDegrees, gridFor: new Map() })
}

function place(facing: Facing, row: number, column: number, more: Partial<Terminal> = {}) {
  const found = layOut([filter('F-1', more)], facing).find((one) => one.row === row && one.column === column)
  if (!found) throw new Error(`no point in row ${row}, column ${column}`)
  return { xM: found.offsetXM, yM: found.offsetYM }
}

// A face 0.6 m wide (plan x) and 1.2 m deep (plan y): 4 rows of 2, cells 0.3 m square, so centres at x = +-0.15 and y = +-0.15, +-0.45.
test('facing plan-up: row 1 is up on the plan, column 1 at the left', () => {
  const points = layOut([filter('F-1')])
  expect(points.map(({ row, column }) => `${row}${column}`)).toEqual(['11', '12', '22', '21', '31', '32', '42', '41'])
  expect(points.map(({ number }) => number)).toEqual([1, 2, 3, 4, 5, 6, 7, 8])
  expect(place(0, 1, 1)).toEqual({ xM: expect.closeTo(-0.15, 12), yM: expect.closeTo(0.45, 12) })
  expect(place(0, 1, 2)).toEqual({ xM: expect.closeTo(0.15, 12), yM: expect.closeTo(0.45, 12) })
  for (const point of points) expect(point.cellAreaM2).toBeCloseTo(0.09, 12)
})

test('facing the other ways: farthest ahead and left hand, by hand', () => {
  // Facing plan-right (90): ahead is +x, the left hand is +y. Facing down: ahead -y, left +x. Facing left: ahead -x, left -y.
  expect(place(90, 1, 1)).toEqual({ xM: expect.closeTo(0.15, 12), yM: expect.closeTo(0.45, 12) })
  expect(place(90, 2, 4)).toEqual({ xM: expect.closeTo(-0.15, 12), yM: expect.closeTo(-0.45, 12) })
  expect(place(180, 1, 1)).toEqual({ xM: expect.closeTo(0.15, 12), yM: expect.closeTo(-0.45, 12) })
  expect(place(270, 1, 1)).toEqual({ xM: expect.closeTo(-0.15, 12), yM: expect.closeTo(-0.45, 12) })
})

test('a terminal turned by a quarter: its depth runs to plan-right', () => {
  // Turned 90 degrees clockwise the face is 1.2 m along x and 0.6 m along y: facing up there are 2 rows of 4.
  expect(place(0, 1, 1, { rotationDegrees: 90 })).toEqual({ xM: expect.closeTo(-0.45, 12), yM: expect.closeTo(0.15, 12) })
  expect(place(0, 2, 4, { rotationDegrees: 90 })).toEqual({ xM: expect.closeTo(0.45, 12), yM: expect.closeTo(-0.15, 12) })
  // Turned with the technician, a face looks as it did: facing right, its row 1 lies to the right.
  expect(place(90, 1, 1, { rotationDegrees: 90 })).toEqual({ xM: expect.closeTo(0.45, 12), yM: expect.closeTo(0.15, 12) })
})

test('a terminal turned by 30 degrees: the same points, turned clockwise about its centre', () => {
  // (-0.15, 0.45) turned 30 degrees clockwise: x cos + y sin = -0.129904 + 0.225 = 0.095096, y cos - x sin = 0.389711 + 0.075 = 0.464711.
  expect(place(0, 1, 1, { rotationDegrees: 30 })).toEqual({ xM: expect.closeTo(0.095096, 6), yM: expect.closeTo(0.464711, 6) })
})

test('a wall face is seen from the room, whichever way the technician faced on the plan', () => {
  for (const facing of FACINGS) {
    const wall = { mounting: 'wall', rotationDegrees: 270 } as const
    expect(place(facing, 1, 1, wall)).toEqual({ xM: expect.closeTo(-0.15, 12), yM: expect.closeTo(0.45, 12) })
    expect(place(facing, 4, 2, wall)).toEqual({ xM: expect.closeTo(0.15, 12), yM: expect.closeTo(-0.45, 12) })
  }
})

const anyFilter = fc.record({
  rotationDegrees: fc.integer({ min: 0, max: 359 }),
  x: fc.double({ min: -20, max: 20, noNaN: true }),
  y: fc.double({ min: -20, max: 20, noNaN: true }),
  grossWidth: fc.double({ min: 0.2, max: 1.5, noNaN: true }).map((si) => ({ si, typed: '1', unit: 'm' as const })),
  grossDepth: fc.double({ min: 0.2, max: 1.5, noNaN: true }).map((si) => ({ si, typed: '1', unit: 'm' as const })),
})

test('never mirrored: from row to row one walks back, from column to column to the right hand', () => {
  fc.assert(
    fc.property(anyFilter, fc.constantFrom(...FACINGS), (face, facing) => {
      const points = layOut([filter('F-1', face)], facing)
      const at = (row: number, column: number) => points.find((one) => one.row === row && one.column === column)
      const [first, right, back] = [at(1, 1), at(1, 2), at(2, 1)]
      if (!first || !right || !back) return
      const turn = (facing * Math.PI) / 180
      const ahead = { x: Math.sin(turn), y: Math.cos(turn) }
      const rightHand = { x: Math.cos(turn), y: -Math.sin(turn) }
      const along = (way: { x: number; y: number }, to: typeof first) =>
        way.x * (to.offsetXM - first.offsetXM) + way.y * (to.offsetYM - first.offsetYM)
      // A face may lie up to 45 degrees askew to the way faced; its rows and columns still go mostly back and mostly right.
      expect(along(ahead, back)).toBeLessThan(0)
      expect(along(rightHand, right)).toBeGreaterThan(0)
    }),
  )
})

test('the points are the same places whichever way one faces, all on the face, and their cells fill it', () => {
  fc.assert(
    fc.property(anyFilter, (face) => {
      const body = filter('F-1', face)
      const places = (facing: Facing) =>
        layOut([body], facing)
          .map((point) => `${point.offsetXM.toFixed(6)} ${point.offsetYM.toFixed(6)}`.replaceAll('-0.000000', '0.000000'))
          .sort()
      const points = layOut([body])
      for (const facing of FACINGS) expect(places(facing)).toEqual(places(0))
      const corners = terminalCorners(body)
      for (const { offsetXM, offsetYM } of points) expect(contains(corners, { x: body.x + offsetXM, y: body.y + offsetYM })).toBe(true)
      const areaM2 = body.grossWidth.si * body.grossDepth.si
      expect(points.reduce((sum, point) => sum + point.cellAreaM2, 0)).toBeCloseTo(areaM2, 9)
    }),
  )
})

test('filter by filter by tag, numbers by their value, one numbering through', () => {
  const small = { grossWidth: { si: 0.3, typed: '0.3', unit: 'm' }, grossDepth: { si: 0.3, typed: '0.3', unit: 'm' } } as const
  const points = layOut([filter('F-10', small), filter('F-2', small), filter('F-1', small)])
  expect(points.map(({ terminalId }) => terminalId)).toEqual([...Array(4).fill('F-1'), ...Array(4).fill('F-2'), ...Array(4).fill('F-10')])
  expect(points.map(({ number }) => number)).toEqual(Array.from({ length: 12 }, (_, index) => index + 1))
  const sameTag = ['b', 'a'].map((id) => ({ id, body: filter('F-1') }))
  expect(inPathOrder(sameTag).map(({ id }) => id)).toEqual(['a', 'b'])
})

test('a closed terminal has no points; a grid of its own and one of the run come before the proposed one', () => {
  expect(layOut([filter('F-1', { closed: { reason: 'blanked off' } })])).toEqual([])
  expect(layOut([filter('F-1', { grid: { rows: 1, columns: 3 } })])).toHaveLength(3)
  const pinned = [{ id: 'F-1', revision: 1, body: filter('F-1', { grid: { rows: 1, columns: 3 } }) }]
  const gridFor = new Map([['F-1', { rows: 5, columns: 2 }]])
  expect(layOutFaceGrid({ terminals: pinned, facingDegrees: 0, gridFor })).toHaveLength(10)
})
