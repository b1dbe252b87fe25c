import type { History, HistoryPoint } from '#core/model/results.ts'

export type Piece = `piece${number}`
export type ChartPoint = {
  /** place along the axis; runs stand at even distances, in time */
  readonly x: number
  readonly point: HistoryPoint
  /** half the height of the bar of uncertainty, in the unit drawn */
  readonly half: number | null
  readonly low: number | null
  readonly high: number | null
  /** the figure under the name of the unbroken piece it belongs to: piece0, piece1 ... */
  readonly values: Readonly<Partial<Record<Piece, number | null>>>
}

export type Series = {
  readonly data: readonly ChartPoint[]
  readonly pieces: readonly Piece[]
  /** where the trend is broken: just before these places */
  readonly breaks: readonly { readonly x: number; readonly point: HistoryPoint }[]
}

/** Breaks that make the figure another thing; other criteria move the limits, not the figure. */
const BREAKS_TREND = new Set(['break.element', 'break.elements', 'break.instrument', 'break.grid', 'break.plane', 'break.volume'])

/**
 * A history as a chart draws it: one line per unbroken piece, limits and the bar of U per run. `show` turns SI into the unit that is drawn; the
 * units of velocities, flows and air changes begin at zero, so that it serves differences as well.
 */
export function seriesOf(history: History, show: (si: number) => number): Series {
  let piece = 0
  const breaks: { x: number; point: HistoryPoint }[] = []
  const data = history.points.map((point, x): ChartPoint => {
    if (point.broken.some((sentence) => BREAKS_TREND.has(sentence.code))) {
      piece += 1
      breaks.push({ x, point })
    }
    const shown = (si: number | null) => (si === null ? null : show(si))
    const name: Piece = `piece${piece}`
    return {
      x,
      point,
      half: shown(point.expandedUncertainty),
      low: shown(point.low),
      high: shown(point.high),
      values: { [name]: shown(point.value) },
    }
  })
  const pieces = Array.from({ length: piece + 1 }, (_, index): Piece => `piece${index}`)
  return { data, pieces, breaks }
}

/** Change in percent from the run before that has a figure. */
export function changeBefore(points: readonly HistoryPoint[], index: number): number | null {
  const value = points[index]?.value ?? null
  const before = points.slice(0, index).findLast((point) => point.value !== null)?.value ?? null
  return value === null || before === null || before === 0 ? null : (100 * (value - before)) / Math.abs(before)
}
