/** A rectangle of the window in pixels, y downwards. */
export type Rect = { readonly left: number; readonly top: number; readonly width: number; readonly height: number }

export function overlaps(a: Rect, b: Rect): boolean {
  return a.left < b.left + b.width && b.left < a.left + a.width && a.top < b.top + b.height && b.top < a.top + a.height
}
