import type { Entity } from '#core/model/entities.ts'
import type { RunResult } from '#core/model/results.ts'
import type { PlanPoint } from '#core/model/values.ts'
import { outlineOf, terminalCorners } from '#core/rooms/geometry.ts'
import { useSay } from '../app/session.tsx'
import { VERDICT_COLOUR, VERDICT_GROUND, VERDICT_HATCH } from '../ui/verdict-patterns.tsx'
import styles from './compare.module.css'

type PlanPictureProps = {
  room: Entity<'room'>
  terminals: readonly Entity<'terminal'>[]
  run: RunResult
  /** longest side in pixels */
  most: number
  visit: string
}

const EDGE_PX = 2

/** The room as it stood in a visit, seen from above, its filters shaded by their verdicts. */
export function PlanPicture({ room, terminals, run, most, visit }: PlanPictureProps) {
  const t = useSay()
  const outline = outlineOf(room.body.shape)
  // Grilles in walls reach beyond the outline of the room.
  const drawn = [...outline, ...terminals.flatMap(({ body }) => terminalCorners(body))]
  const xs = drawn.map((point) => point.x)
  const ys = drawn.map((point) => point.y)
  const [left, upper] = [Math.min(...xs), Math.max(...ys)]
  const scale = (most - 2 * EDGE_PX) / Math.max(Math.max(...xs) - left, upper - Math.min(...ys))
  const size = (metres: number) => metres * scale + 2 * EDGE_PX
  const place = (point: PlanPoint) => `${(point.x - left) * scale + EDGE_PX},${(upper - point.y) * scale + EDGE_PX}`
  const verdicts = new Map(run.filters.map((filter) => [filter.terminalId, filter.verdict]))
  return (
    <svg
      className={styles.plan}
      width={size(Math.max(...xs) - left)}
      height={size(upper - Math.min(...ys))}
      role="img"
      aria-label={t('compare.why.plan_picture', { visit })}
    >
      <polygon points={outline.map(place).join(' ')} className={styles.walls} />
      {terminals.map(({ id, body }) => {
        const verdict = verdicts.get(id)
        const points = terminalCorners(body).map(place).join(' ')
        if (!verdict) return <polygon key={id} points={points} className={styles.grille} />
        return (
          <g key={id}>
            <polygon points={points} style={{ fill: VERDICT_GROUND[verdict], stroke: VERDICT_COLOUR[verdict] }} />
            <polygon points={points} style={{ fill: VERDICT_HATCH[verdict] }} />
          </g>
        )
      })}
    </svg>
  )
}
