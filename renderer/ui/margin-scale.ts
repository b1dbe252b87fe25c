export type MarginScale = {
  /** places along the bar, 0 to 1 */
  readonly value: number | null
  readonly low: number | null
  readonly high: number | null
}

/**
 * Where value and limits stand along a bar, all in one unit. The bar spans limits and value with a fifth to spare, so that a value on
 * its limit is seen to touch it. Not finite numbers count as absent.
 */
export function marginScale(value: number | null, low: number | null, high: number | null): MarginScale {
  const present = [value, low, high].filter((number): number is number => number !== null && Number.isFinite(number))
  const least = Math.min(...present)
  const greatest = Math.max(...present)
  if (present.length === 0) return { value: null, low: null, high: null }
  const span = greatest - least || Math.abs(greatest) || 1
  const from = least - span * 0.2
  const width = span * 1.4
  const place = (number: number | null) => (number === null || !Number.isFinite(number) ? null : (number - from) / width)
  return { value: place(value), low: place(low), high: place(high) }
}
