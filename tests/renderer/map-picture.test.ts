import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { placeLabels } from '#renderer/rooms/plan/label-placement.ts'
import { insideMarquee, marqueeBetween, type Target } from '#renderer/rooms/plan/marquee.ts'
import { overlaps } from '#renderer/rooms/plan/rect.ts'
import { shadeOf, shadeRange } from '#renderer/rooms/plan/velocity-shade.ts'

const box = (id: string, left: number, bottom: number, right: number, top: number): Target => ({
  id,
  corners: [
    { x: left, y: bottom },
    { x: right, y: bottom },
    { x: right, y: top },
    { x: left, y: top },
  ],
})

describe('a marquee', () => {
  test('takes what lies wholly inside, drawn from any corner', () => {
    const all = [box('large', 2, 2, 4, 4), box('room', 0, 0, 10, 5), box('small', 2.5, 2.5, 3, 3), box('zone', 1, 1, 5, 4)]
    const marquee = marqueeBetween({ x: 4.5, y: 2 }, { x: 2, y: 4.2 })
    expect(insideMarquee(marquee, all).map((hit) => hit.id)).toEqual(['large', 'small'])
  })

  test('takes a turned face by its own corners', () => {
    const turned: Target = {
      id: 'turned',
      corners: [
        { x: 0, y: 1 },
        { x: 1, y: 0 },
        { x: 2, y: 1 },
        { x: 1, y: 2 },
      ],
    }
    expect(insideMarquee(marqueeBetween({ x: 0, y: 0 }, { x: 2, y: 2 }), [turned])).toHaveLength(1)
    expect(insideMarquee(marqueeBetween({ x: 0, y: 0 }, { x: 1.9, y: 2 }), [turned])).toHaveLength(0)
  })
})

describe('labels on the filters', () => {
  const style = { lineHeight: 14, widthOf: (line: string) => line.length * 7, padding: 3 }
  const window = { left: 0, top: 0, width: 1000, height: 700 }

  test('a roomy face takes all its lines, a small one the first that fit, a tiny one none inside', () => {
    const lines = ['0.45', 'F-01', '1 200']
    const [roomy] = placeLabels([{ id: 'a', face: { left: 0, top: 0, width: 60, height: 60 }, lines, weight: 0 }], window, style)
    expect(roomy).toMatchObject({ lines, inside: true })
    // 24 px high less 3 leaves room for one line of 14.
    const [small] = placeLabels([{ id: 'a', face: { left: 0, top: 0, width: 60, height: 24 }, lines, weight: 0 }], window, style)
    expect(small).toMatchObject({ lines: ['0.45'], inside: true })
    const [tiny] = placeLabels([{ id: 'a', face: { left: 200, top: 200, width: 12, height: 12 }, lines, weight: 0 }], window, style)
    expect(tiny).toMatchObject({ lines: ['0.45'], inside: false })
  })

  test('of two that want the same place the weightier one has it', () => {
    const face = { left: 100, top: 100, width: 50, height: 50 }
    const labels = placeLabels(
      [
        { id: 'light', face, lines: ['0.45'], weight: 0 },
        { id: 'heavy', face, lines: ['0.31'], weight: 1 },
      ],
      window,
      style,
    )
    expect(labels.map((label) => label.id)).toEqual(['heavy'])
  })

  test('a dense field of tiny faces has labels for what matters only, not for its rim', () => {
    const field = Array.from({ length: 100 }, (_, index) => ({
      id: String(index),
      face: { left: 300 + (index % 10) * 12, top: 300 + Math.floor(index / 10) * 12, width: 12, height: 12 },
      lines: ['0.45'],
      weight: index === 0 ? 3 : 0,
    }))
    expect(placeLabels(field, window, style).map((label) => label.id)).toEqual(['0'])
  })

  test('nothing is put beside a face where the name of a zone stands', () => {
    const face = { left: 200, top: 200, width: 12, height: 12 }
    const request = { id: 'a', face, lines: ['0.45'], weight: 0 }
    const below = { left: 150, top: 214, width: 120, height: 16 }
    const [label] = placeLabels([request], window, style, { written: [below] })
    expect(label && overlaps(label.rect, below)).toBe(false)
    expect(label?.inside).toBe(false)
  })

  test('a label goes where the window shows it whole, when it can', () => {
    const sight = { left: 0, top: 0, width: 220, height: 700 }
    const face = { left: 200, top: 200, width: 12, height: 30 }
    const blocked = [
      { left: 150, top: 180, width: 100, height: 20 },
      { left: 150, top: 230, width: 100, height: 20 },
    ]
    const [label] = placeLabels([{ id: 'a', face, lines: ['0.45'], weight: 0 }], window, style, { written: blocked, sight })
    // To the right it would reach from 215 to 243 and be cut at 220.
    expect(label?.rect.left).toBe(200 - 28 - 3)
  })

  test('no two labels ever overlap, none lies on another filter, and none is made for what is out of sight', () => {
    const face = fc.record({
      left: fc.integer({ min: -200, max: 1200 }),
      top: fc.integer({ min: -200, max: 900 }),
      width: fc.integer({ min: 4, max: 90 }),
      height: fc.integer({ min: 4, max: 90 }),
    })
    fc.assert(
      fc.property(fc.array(fc.tuple(face, fc.integer({ min: 0, max: 2 })), { maxLength: 60 }), (faces) => {
        const requests = faces.map(([rect, weight], index) => ({ id: String(index), face: rect, lines: ['0.452', 'F-104-01'], weight }))
        const labels = placeLabels(requests, window, style)
        labels.forEach((a, index) => {
          for (const b of labels.slice(index + 1)) expect(overlaps(a.rect, b.rect)).toBe(false)
          const own = requests.find((request) => request.id === a.id)
          expect(own && overlaps(own.face, window)).toBe(true)
          if (!a.inside) for (const other of requests) if (overlaps(other.face, window)) expect(overlaps(other.face, a.rect)).toBe(false)
        })
      }),
    )
  })
})

describe('velocity shades', () => {
  test('lightness rises evenly from slow to fast (CIE L*, CIE 15)', () => {
    const range = { lowMps: 0.3, highMps: 0.6 }
    const steps = Array.from({ length: 13 }, (_, index) => lightness(shadeOf(0.3 + index * 0.025, range).fill))
    const rises = steps.slice(1).map((value, index) => value - (steps[index] ?? 0))
    for (const rise of rises) expect(rise).toBeGreaterThan(0)
    // Even: no step more than twice the mean step.
    const mean = ((steps.at(-1) ?? 0) - (steps[0] ?? 0)) / rises.length
    for (const rise of rises) expect(rise).toBeLessThan(2 * mean)
  })

  test('the ink on a shade keeps the contrast of 4.5 to 1 that WCAG 2 asks of text', () => {
    const range = { lowMps: 0, highMps: 1 }
    for (let step = 0; step <= 50; step += 1) {
      const shade = shadeOf(step / 50, range)
      const ground = luminance(shade.fill)
      const contrast = shade.ink === 'black' ? (ground + 0.05) / 0.05 : 1.05 / (ground + 0.05)
      expect(contrast).toBeGreaterThanOrEqual(4.5)
    }
  })

  test('nearly equal means are not blown up to the whole scale', () => {
    const range = shadeRange([0.45, 0.46])
    expect(range?.lowMps).toBeCloseTo(0.405, 9)
    expect(range?.highMps).toBeCloseTo(0.505, 9)
    expect(shadeRange([])).toBeNull()
  })
})

function luminance(rgb: string): number {
  const [red = 0, green = 0, blue = 0] = (rgb.match(/\d+/g) ?? []).map((part) => {
    const share = Number(part) / 255
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4
  })
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue
}

function lightness(rgb: string): number {
  const y = luminance(rgb)
  return y > 216 / 24389 ? 116 * Math.cbrt(y) - 16 : (24389 / 27) * y
}
