import type { PlanPoint } from '#core/model/values.ts'

/** Where the plan stands in the window: pixels per metre, and the pixel at which plan (0, 0) lies. */
export type View = { readonly pxPerM: number; readonly originX: number; readonly originY: number }
export type Pixel = { readonly x: number; readonly y: number }
export type Size = { readonly width: number; readonly height: number }
export type Bounds = { readonly left: number; readonly right: number; readonly bottom: number; readonly top: number }

export const LEAST_PX_PER_M = 2
export const MOST_PX_PER_M = 1500

/**
 * Plan metres to window pixels. Plan right is window right and plan up is window up: seen from above and never mirrored
 * (domain: handedness), because both axes keep the sense that a person looking down on the floor sees.
 */
export const toPixel = (view: View, point: PlanPoint): Pixel => ({
  x: view.originX + point.x * view.pxPerM,
  y: view.originY - point.y * view.pxPerM,
})

/** Window pixels to plan metres, the inverse of {@link toPixel}. */
export const toPlan = (view: View, pixel: Pixel): PlanPoint => ({
  x: (pixel.x - view.originX) / view.pxPerM,
  y: (view.originY - pixel.y) / view.pxPerM,
})

/** Smallest upright box around the points, in metres; null when there are none. */
export function boundsOf(points: Iterable<PlanPoint>): Bounds | null {
  let left = Infinity
  let right = -Infinity
  let bottom = Infinity
  let top = -Infinity
  for (const point of points) {
    left = Math.min(left, point.x)
    right = Math.max(right, point.x)
    bottom = Math.min(bottom, point.y)
    top = Math.max(top, point.y)
  }
  return left <= right ? { left, right, bottom, top } : null
}

/** The view in which the box fills the window, centred, with `margin` pixels free on every side. */
export function fitView(bounds: Bounds, window: Size, margin: number): View {
  const width = Math.max(bounds.right - bounds.left, 0.1)
  const height = Math.max(bounds.top - bounds.bottom, 0.1)
  const pxPerM = clampScale(Math.min((window.width - 2 * margin) / width, (window.height - 2 * margin) / height))
  return {
    pxPerM,
    originX: window.width / 2 - ((bounds.left + bounds.right) / 2) * pxPerM,
    originY: window.height / 2 + ((bounds.bottom + bounds.top) / 2) * pxPerM,
  }
}

/** Zooms by a factor so that the plan point under `at` stays under it. Stops at the least and greatest scale. */
export function zoomAt(view: View, factor: number, at: Pixel): View {
  const pxPerM = clampScale(view.pxPerM * factor)
  const ratio = pxPerM / view.pxPerM
  return { pxPerM, originX: at.x - (at.x - view.originX) * ratio, originY: at.y - (at.y - view.originY) * ratio }
}

export const panBy = (view: View, dx: number, dy: number): View => ({
  ...view,
  originX: view.originX + dx,
  originY: view.originY + dy,
})

/** Moves the view just so far that the box lies inside the window with `margin` to spare; the scale stays. */
export function bringIntoView(view: View, bounds: Bounds, window: Size, margin: number): View {
  const upperLeft = toPixel(view, { x: bounds.left, y: bounds.top })
  const lowerRight = toPixel(view, { x: bounds.right, y: bounds.bottom })
  return panBy(
    view,
    intoSpan(upperLeft.x, lowerRight.x, margin, window.width - margin),
    intoSpan(upperLeft.y, lowerRight.y, margin, window.height - margin),
  )
}

/**
 * How a picture drawn for `drawn` has to be moved and scaled to stand as in `live`, about its upper left corner: one transform
 * of one layer, so that panning never lays out the filters again.
 */
export function layerTransform(drawn: View, live: View): { readonly dx: number; readonly dy: number; readonly scale: number } {
  const scale = live.pxPerM / drawn.pxPerM
  return { scale, dx: live.originX - drawn.originX * scale, dy: live.originY - drawn.originY * scale }
}

function intoSpan(low: number, high: number, least: number, most: number): number {
  if (high - low > most - least) return (least + most) / 2 - (low + high) / 2
  if (low < least) return least - low
  if (high > most) return most - high
  return 0
}

function clampScale(pxPerM: number): number {
  return Math.min(MOST_PX_PER_M, Math.max(LEAST_PX_PER_M, pxPerM))
}
