import { type CSSProperties, memo, useMemo } from 'react'
import type { RunResult } from '#core/model/results.ts'
import type { PlanPoint, Uuid } from '#core/model/values.ts'
import { outlineOf, terminalCorners } from '#core/rooms/geometry.ts'
import { useSay } from '../app/session.tsx'
import { useVerdictWord } from '../ui/verdict-mark.tsx'
import { VERDICT_COLOUR, VERDICT_GROUND } from '../ui/verdict-patterns.tsx'
import { asFaced, type QuarterTurns } from './face-view.ts'
import styles from './run-map.module.css'
import type { RunPlan } from './run-plan.ts'

type RunMapProps = {
  plan: RunPlan
  result: RunResult | null
  turns: QuarterTurns
  current: Uuid | null
  onPick: (terminalId: Uuid) => void
}

/** The room from above, turned the way the technician faces, with the filter over him marked. A touch goes to a filter. */
export const RunMap = memo(function RunMap({ plan, result, turns, current, onPick }: RunMapProps) {
  const t = useSay()
  const word = useVerdictWord()
  const facing = plan.run.body.facingDegrees
  const drawing = useMemo(() => {
    const turned = (points: readonly PlanPoint[]) =>
      points.map((point) => {
        const { across, ahead } = asFaced(point.x, point.y, facing, turns)
        return { x: across, y: -ahead }
      })
    const outline = turned(outlineOf(plan.room.body.shape))
    const xs = outline.map((point) => point.x)
    const ys = outline.map((point) => point.y)
    const box = {
      x: Math.min(...xs),
      y: Math.min(...ys),
      width: Math.max(...xs) - Math.min(...xs),
      height: Math.max(...ys) - Math.min(...ys),
    }
    const filters = plan.filters.map((filter) => ({
      id: filter.terminalId,
      tag: filter.terminal.body.tag,
      corners: turned(terminalCorners(filter.terminal.body)),
    }))
    return { outline: asPath(outline), box, filters }
  }, [plan, facing, turns])
  const verdicts = useMemo(() => new Map(result?.filters.map((filter) => [filter.terminalId, filter.verdict])), [result])
  const { box } = drawing
  const margin = Math.max(box.width, box.height) * 0.04 + 0.1
  const frame = { x: box.x - margin, y: box.y - margin, width: box.width + 2 * margin, height: box.height + 2 * margin }
  const percent = (part: number, whole: number) => `${(100 * part) / whole}%`
  return (
    <section className={styles.map} aria-label={t('readings.map', { room: plan.room.body.number })}>
      <div
        className={styles.plan}
        style={{ aspectRatio: String(frame.width / frame.height), '--map-aspect': String(frame.width / frame.height) } as CSSProperties}
      >
        <svg viewBox={`${frame.x} ${frame.y} ${frame.width} ${frame.height}`} aria-hidden="true">
          <path d={drawing.outline} className={styles.room} vectorEffect="non-scaling-stroke" />
          {drawing.filters.map((filter) => {
            const verdict = verdicts.get(filter.id) ?? 'not_tested'
            const path = asPath(filter.corners)
            return (
              <g key={filter.id} style={{ stroke: VERDICT_COLOUR[verdict] }}>
                <path d={path} data-verdict={verdict} style={{ fill: VERDICT_GROUND[verdict] }} vectorEffect="non-scaling-stroke" />
                {verdict === 'fail' || verdict === 'not_valid' ? (
                  <path d={crossOf(filter.corners, verdict === 'not_valid')} vectorEffect="non-scaling-stroke" />
                ) : null}
                {filter.id === current ? <path d={path} className={styles.current} vectorEffect="non-scaling-stroke" /> : null}
              </g>
            )
          })}
        </svg>
        {drawing.filters.map((filter) => {
          const left = Math.min(...filter.corners.map((corner) => corner.x))
          const top = Math.min(...filter.corners.map((corner) => corner.y))
          const right = Math.max(...filter.corners.map((corner) => corner.x))
          const bottom = Math.max(...filter.corners.map((corner) => corner.y))
          const name = `${filter.tag}, ${word(verdicts.get(filter.id) ?? 'not_tested')}`
          return (
            // The strip offers the same to the keyboard, one stop instead of hundreds.
            <button
              key={filter.id}
              type="button"
              tabIndex={-1}
              aria-label={name}
              title={name}
              className={styles.spot}
              style={{
                left: percent(left - frame.x, frame.width),
                top: percent(top - frame.y, frame.height),
                width: percent(right - left, frame.width),
                height: percent(bottom - top, frame.height),
              }}
              onMouseDown={(event) => event.preventDefault()}
              onClick={() => onPick(filter.id)}
            />
          )
        })}
      </div>
    </section>
  )
})

const asPath = (points: readonly { x: number; y: number }[]) => `M${points.map((point) => `${point.x} ${point.y}`).join('L')}Z`

/** One diagonal for a failure, two for what is not valid: told apart without colour. */
function crossOf([a, b, c, d]: readonly { x: number; y: number }[], both: boolean): string {
  if (!a || !b || !c || !d) return ''
  return `M${a.x} ${a.y}L${c.x} ${c.y}${both ? `M${b.x} ${b.y}L${d.x} ${d.y}` : ''}`
}
