import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { scaleBar } from '#renderer/rooms/plan/scale-bar.ts'
import {
  boundsOf,
  bringIntoView,
  fitView,
  layerTransform,
  toPixel,
  toPlan,
  type View,
  zoomAt,
} from '#renderer/rooms/plan/view-transform.ts'

const metre = fc.double({ min: -500, max: 500, noNaN: true })
const point = fc.record({ x: metre, y: metre })
const pixel = fc.record({ x: fc.integer({ min: -3000, max: 3000 }), y: fc.integer({ min: -3000, max: 3000 }) })
const view: fc.Arbitrary<View> = fc.record({
  pxPerM: fc.double({ min: 2, max: 1500, noNaN: true }),
  originX: fc.double({ min: -4000, max: 4000, noNaN: true }),
  originY: fc.double({ min: -4000, max: 4000, noNaN: true }),
})

describe('the plan is seen from above and never mirrored', () => {
  test('right on the plan is right in the window and up is up, at every view', () => {
    fc.assert(
      fc.property(view, point, fc.double({ min: 0.01, max: 50, noNaN: true }), (at, from, step) => {
        const here = toPixel(at, from)
        expect(toPixel(at, { x: from.x + step, y: from.y }).x).toBeGreaterThan(here.x)
        expect(toPixel(at, { x: from.x, y: from.y + step }).y).toBeLessThan(here.y)
      }),
    )
  })

  test('a turn to the left on the floor is a turn to the left in the window, whatever was zoomed before', () => {
    fc.assert(
      fc.property(
        view,
        point,
        fc.array(fc.tuple(fc.double({ min: 0.2, max: 5, noNaN: true }), pixel), { maxLength: 8 }),
        (start, corner, zooms) => {
          const end = zooms.reduce((at, [factor, where]) => zoomAt(at, factor, where), start)
          const a = toPixel(end, corner)
          const east = toPixel(end, { x: corner.x + 1, y: corner.y })
          const north = toPixel(end, { x: corner.x, y: corner.y + 1 })
          // From first principles: east x north is positive with y upwards, so negative where the window's y runs down.
          expect((east.x - a.x) * (north.y - a.y) - (east.y - a.y) * (north.x - a.x)).toBeLessThan(0)
        },
      ),
    )
  })

  test('a pixel and its plan point belong together', () => {
    fc.assert(
      fc.property(view, point, (at, from) => {
        const back = toPlan(at, toPixel(at, from))
        expect(back.x).toBeCloseTo(from.x, 6)
        expect(back.y).toBeCloseTo(from.y, 6)
      }),
    )
  })
})

describe('zoom and pan', () => {
  test('what is under the pointer stays under it', () => {
    fc.assert(
      fc.property(view, pixel, fc.double({ min: 0.1, max: 10, noNaN: true }), (at, where, factor) => {
        const under = toPlan(at, where)
        const after = toPixel(zoomAt(at, factor, where), under)
        expect(after.x).toBeCloseTo(where.x, 5)
        expect(after.y).toBeCloseTo(where.y, 5)
      }),
    )
  })

  test('fit shows a room of 8 x 4 m in 900 x 500 px with 50 px to spare at 100 px per metre, centred', () => {
    // By hand: (900 - 100) / 8 = 100 and (500 - 100) / 4 = 100; the room's middle (4, 2) stands at (450, 250).
    const at = fitView({ left: 0, right: 8, bottom: 0, top: 4 }, { width: 900, height: 500 }, 50)
    expect(at.pxPerM).toBe(100)
    expect(toPixel(at, { x: 4, y: 2 })).toEqual({ x: 450, y: 250 })
    expect(toPixel(at, { x: 0, y: 4 })).toEqual({ x: 50, y: 50 })
  })

  test('moving the drawn layer puts every point where the live view wants it', () => {
    fc.assert(
      fc.property(view, view, point, (drawn, live, where) => {
        const move = layerTransform(drawn, live)
        const before = toPixel(drawn, where)
        const after = toPixel(live, where)
        expect(before.x * move.scale + move.dx).toBeCloseTo(after.x, 4)
        expect(before.y * move.scale + move.dy).toBeCloseTo(after.y, 4)
      }),
    )
  })

  test('a filter outside the window is brought in by the shortest way, one inside moves nothing', () => {
    const at: View = { pxPerM: 100, originX: 0, originY: 500 }
    const window = { width: 600, height: 500 }
    expect(bringIntoView(at, { left: 1, right: 2, bottom: 1, top: 2 }, window, 20)).toEqual(at)
    // Its right edge lies at 700 px, 20 px are to stay free: 120 px to the left.
    expect(bringIntoView(at, { left: 6, right: 7, bottom: 1, top: 2 }, window, 20).originX).toBe(-120)
  })

  test('bounds of nothing are none', () => {
    expect(boundsOf([])).toBeNull()
  })
})

describe('the scale bar', () => {
  test('is round and never longer than it may be', () => {
    fc.assert(
      fc.property(fc.double({ min: 2, max: 1500, noNaN: true }), fc.constantFrom('m' as const, 'ft' as const), (pxPerM, unit) => {
        const bar = scaleBar(pxPerM, unit, 160)
        expect(bar.px).toBeLessThanOrEqual(160.000001)
        expect(bar.px).toBeGreaterThan(160 / 13)
        expect(String(bar.value)).toMatch(/^[125]0*$/)
      }),
    )
  })

  test('at 100 px per metre 160 px hold 1 m or 5 ft', () => {
    // 5 ft = 1.524 m = 152.4 px (NIST SP 811: 1 ft = 0.3048 m exactly).
    expect(scaleBar(100, 'm', 160)).toMatchObject({ value: 1, unit: 'm', px: 100 })
    const feet = scaleBar(100, 'ft', 160)
    expect(feet).toMatchObject({ value: 5, unit: 'ft' })
    expect(feet.px).toBeCloseTo(152.4, 9)
  })
})
