import { describe, expect, test } from 'vitest'
import { editorKey, type KeyState } from '#renderer/rooms/edit/editor-keys.ts'
import { changedLimits, limitsOf } from '#renderer/rooms/edit/override-limits.ts'
import { doorPlace } from '#renderer/rooms/plan/door-place.ts'
import { misfitsOf } from '#renderer/rooms/plan/misfits.ts'
import { pointPlace } from '#renderer/rooms/plan/point-places.ts'

const press = (key: string, held: Partial<KeyState> = {}): KeyState => ({
  key,
  shiftKey: false,
  ctrlKey: false,
  metaKey: false,
  altKey: false,
  ...held,
})

describe('keys of the drawing board', () => {
  test('arrows nudge by 1 cm as the plan lies, with Shift by 10 cm', () => {
    expect(editorKey(press('ArrowUp'), 2, 'm')).toEqual({ do: 'nudge', dx: 0, dy: 0.01 })
    expect(editorKey(press('ArrowLeft', { shiftKey: true }), 2, 'm')).toEqual({ do: 'nudge', dx: -0.1, dy: 0 })
    // An inch is 0.0254 m exactly (NIST SP 811, B.8).
    expect(editorKey(press('ArrowUp'), 2, 'ft')).toEqual({ do: 'nudge', dx: 0, dy: 0.0254 })
    expect(editorKey(press('ArrowLeft', { shiftKey: true }), 2, 'ft')).toEqual({ do: 'nudge', dx: -0.1524, dy: 0 })
  })

  test('Alt and an arrow go on, with Shift they take the next one in; with nothing selected arrows go too', () => {
    expect(editorKey(press('ArrowRight', { altKey: true }), 1, 'm')).toEqual({ do: 'go', direction: 'right', extend: false })
    expect(editorKey(press('ArrowRight', { altKey: true, shiftKey: true }), 1, 'm')).toEqual({ do: 'go', direction: 'right', extend: true })
    expect(editorKey(press('ArrowDown'), 0, 'm')).toEqual({ do: 'go', direction: 'down', extend: false })
  })

  test('undo, redo, find and zoom are left to the window and the canvas', () => {
    for (const key of ['z', 'y', 'k']) expect(editorKey(press(key, { ctrlKey: true }), 1, 'm')).toBeNull()
    for (const key of ['+', '-', '0', '/', '?', 'F8', 'Tab']) expect(editorKey(press(key), 1, 'm')).toBeNull()
  })

  test('letters mean the same in capitals, and Control A is all, not an array', () => {
    expect(editorKey(press('A', { shiftKey: true }), 0, 'm')).toEqual({ do: 'open', task: 'array' })
    expect(editorKey(press('a', { ctrlKey: true }), 0, 'm')).toEqual({ do: 'all' })
    expect(editorKey(press('a', { metaKey: true }), 0, 'm')).toEqual({ do: 'all' })
  })
})

describe('doors', () => {
  const outline = [
    { x: 0, y: 0 },
    { x: 6, y: 0 },
    { x: 6, y: 4 },
    { x: 0, y: 4 },
  ]

  test('stand on the nearest wall and open outwards: clockwise turn 0 far, 90 right, 180 near, 270 left', () => {
    expect(doorPlace(outline, { x: 3, y: 3.8 })).toMatchObject({ at: { x: 3, y: 4 }, rotationDegrees: 0 })
    expect(doorPlace(outline, { x: 5.9, y: 2 })).toMatchObject({ at: { x: 6, y: 2 }, rotationDegrees: 90, beyond: { x: 6.4, y: 2 } })
    expect(doorPlace(outline, { x: 3, y: 0.2 })).toMatchObject({ at: { x: 3, y: 0 }, rotationDegrees: 180 })
    expect(doorPlace(outline, { x: -1, y: 1 })).toMatchObject({ at: { x: 0, y: 1 }, rotationDegrees: 270 })
  })
})

describe('an array that does not fit', () => {
  const outline = [
    { x: 0, y: 0 },
    { x: 4, y: 0 },
    { x: 4, y: 2 },
    { x: 0, y: 2 },
  ]

  test('faces that reach out are counted, faces on the wall fit, touching faces do not overlap', () => {
    expect(
      misfitsOf(
        [
          { x: 0.5, y: 1 },
          { x: 1.5, y: 1 },
          { x: 3.8, y: 1 },
        ],
        1,
        2,
        outline,
      ),
    ).toEqual({ outside: 1, overlapping: false })
    expect(
      misfitsOf(
        [
          { x: 1, y: 1 },
          { x: 1.9, y: 1 },
        ],
        1,
        2,
        outline,
      ),
    ).toEqual({ outside: 0, overlapping: true })
  })
})

describe('points inside the face', () => {
  test('lie right and up of its centre as their offsets say', () => {
    expect(pointPlace({ x: 3, y: 2 }, { offsetXM: 0.2, offsetYM: -0.1 })).toEqual({ x: 3.2, y: 1.9 })
  })
})

describe("a room's own limits", () => {
  const value = { si: 20, typed: '20', unit: '1/h' } as const
  const other = { si: 25, typed: '25', unit: '1/h' } as const

  test('the numbers of a form are offered and put back in their places', () => {
    const between = { kind: 'between', low: { from: 'value', value }, high: { from: 'value', value: other } } as const
    expect(limitsOf(between).map((slot) => slot.key)).toEqual(['low', 'high'])
    expect(changedLimits(between, 'low', other)).toMatchObject({ low: { value: other }, high: { value: other } })
    expect(changedLimits({ kind: 'spread_at_most', percent: 15 }, 'percent', { si: 20, typed: '20', unit: '%' })).toEqual({
      kind: 'spread_at_most',
      percent: 20,
    })
  })

  test("the room's required minimum is changed at the room, not here", () => {
    expect(limitsOf({ kind: 'at_least', limit: { from: 'room_required_minimum' } })).toEqual([])
  })
})
