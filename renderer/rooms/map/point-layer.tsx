import type { Location } from '#core/model/readings.ts'
import type { FilterResult } from '#core/model/results.ts'
import type { PlanPoint } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { pointPlace } from '../plan/point-places.ts'
import { toPixel, type View } from '../plan/view-transform.ts'
import styles from './plan.module.css'
import { textWidth } from './text-width.ts'

type PointLayerProps = {
  centre: PlanPoint
  locations: readonly Location[]
  result: FilterResult | null
  formatter: Formatter
  view: View
  /** values where true, marks where there is no room for them */
  roomy: boolean
}

const FONT = '600 12.5px "Source Sans 3 Variable"'
const LINE_PX = 16

/** The measuring points of the selected filter inside its face: their values where there is room, else marks. */
export function PointLayer({ centre, locations, result, formatter, view, roomy }: PointLayerProps) {
  const means = new Map(result?.pointMeansMps.map((point) => [point.point, point.meanMps]))
  const points = locations.map((location) => {
    const mean = means.get(location.number) ?? null
    return { location, pixel: toPixel(view, pointPlace(centre, location)), text: mean === null ? '' : formatter.number(mean, 'velocity') }
  })
  return (
    <svg className={styles.points} aria-hidden="true" overflow="visible">
      {points.map(({ location, pixel, text }) =>
        roomy && text !== '' ? (
          <text key={location.number} x={pixel.x} y={pixel.y + 4} className={styles.pointValue}>
            {text}
          </text>
        ) : (
          <circle key={location.number} cx={pixel.x} cy={pixel.y} r={2.5} className={styles.point} />
        ),
      )}
    </svg>
  )
}

/** Whether every two points of the filter lie far enough apart for a value on each. */
export function pointsHaveRoom(locations: readonly Location[], result: FilterResult | null, formatter: Formatter, pxPerM: number): boolean {
  const texts = result?.pointMeansMps.map(({ meanMps }) => (meanMps === null ? '' : formatter.number(meanMps, 'velocity'))) ?? []
  const widestPx = Math.max(...texts.map((text) => textWidth(text, FONT)), 0)
  if (widestPx === 0) return false
  return locations.every((a, index) =>
    locations
      .slice(index + 1)
      .every((b) => Math.abs(a.offsetXM - b.offsetXM) * pxPerM >= widestPx + 5 || Math.abs(a.offsetYM - b.offsetYM) * pxPerM >= LINE_PX),
  )
}
