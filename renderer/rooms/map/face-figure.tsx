import type { Verdict } from '#core/model/criteria.ts'
import type { Entity } from '#core/model/entities.ts'
import type { Location } from '#core/model/readings.ts'
import type { FilterResult } from '#core/model/results.ts'
import { useFormatter, useSay } from '#renderer/app/session.tsx'
import { VERDICT_COLOUR, VERDICT_GROUND } from '#renderer/ui/verdict-patterns.tsx'
import styles from './face-figure.module.css'

type FaceFigureProps = {
  terminal: Entity<'terminal'>
  locations: readonly Location[]
  result: FilterResult | null
  verdict: Verdict
  /** longest side in pixels */
  most: number
}

/**
 * One face large enough to read, with the value of each point at its place: a ceiling face as on the plan (plan-up is up), a wall face
 * as a person in the room sees it.
 */
export function FaceFigure({ terminal, locations, result, verdict, most }: FaceFigureProps) {
  const t = useSay()
  const formatter = useFormatter()
  const { grossWidth, grossDepth, mounting, rotationDegrees, tag } = terminal.body
  const turn = mounting === 'wall' ? 0 : rotationDegrees
  const radians = (turn * Math.PI) / 180
  const spanX = Math.abs(grossWidth.si * Math.cos(radians)) + Math.abs(grossDepth.si * Math.sin(radians))
  const spanY = Math.abs(grossWidth.si * Math.sin(radians)) + Math.abs(grossDepth.si * Math.cos(radians))
  const scale = most / Math.max(spanX, spanY)
  const [width, height] = [spanX * scale, spanY * scale]
  const means = new Map(result?.pointMeansMps.map((point) => [point.point, point.meanMps]))
  return (
    <figure className={styles.figure}>
      <svg width={width + 4} height={height + 4} role="img" aria-label={t('map.face.picture', { tag, points: locations.length })}>
        <g transform={`translate(${width / 2 + 2} ${height / 2 + 2})`}>
          <rect
            x={(-grossWidth.si * scale) / 2}
            y={(-grossDepth.si * scale) / 2}
            width={grossWidth.si * scale}
            height={grossDepth.si * scale}
            transform={`rotate(${turn})`}
            style={{ fill: VERDICT_GROUND[verdict], stroke: VERDICT_COLOUR[verdict] }}
            strokeWidth="2"
          />
          {locations.map((location) => {
            const mean = means.get(location.number) ?? null
            return (
              <text
                key={location.number}
                x={location.offsetXM * scale}
                y={-location.offsetYM * scale + 5}
                className={result?.largestDeviationPoint === location.number ? styles.worst : styles.value}
              >
                {mean === null ? t('map.face.no_value', {}) : formatter.number(mean, 'velocity')}
              </text>
            )
          })}
        </g>
      </svg>
      <figcaption className={styles.caption}>
        {mounting === 'wall' ? t('map.face.seen_from_room', {}) : t('map.face.seen_from_above', {})}
      </figcaption>
    </figure>
  )
}
