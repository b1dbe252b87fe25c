import { type CSSProperties, memo, useMemo } from 'react'
import type { Verdict } from '#core/model/criteria.ts'
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
type DrawnFilter = { readonly id: Uuid; readonly tag: string; readonly corners: readonly { x: number; y: number }[] }
type Frame = { readonly x: number; readonly y: number; readonly width: number; readonly height: number }

/** The room from above, turned the way the technician faces, with the filter over him marked. A touch goes to a filter. */
export function RunMap({ plan, result, turns, current, onPick }: RunMapProps) {
  const t = useSay()
  const facing = plan.run.body.facingDegrees
  const { outline, frame, filters } = useMemo(() => drawnPlan(plan, facing, turns), [plan, facing, turns])
  const verdicts = useMemo(() => new Map(result?.filters.map((filter) => [filter.terminalId, filter.verdict])), [result])
  const here = filters.find((filter) => filter.id === current)
  const viewBox = `${frame.x} ${frame.y} ${frame.width} ${frame.height}`
  const aspect = String(frame.width / frame.height)
  return (
    <section className={styles.map} aria-label={t('readings.map', { room: plan.room.body.number })}>
      <div className={styles.plan} style={{ aspectRatio: aspect, '--map-aspect': aspect } as CSSProperties}>
        <Filters viewBox={viewBox} outline={outline} filters={filters} verdicts={verdicts} />
        <svg viewBox={viewBox} className={styles.over} aria-hidden="true">
          {here ? <path d={asPath(here.corners)} className={styles.current} vectorEffect="non-scaling-stroke" /> : null}
        </svg>
        <Spots frame={frame} filters={filters} verdicts={verdicts} onPick={onPick} />
      </div>
    </section>
  )
}

function drawnPlan(plan: RunPlan, facing: number, turns: QuarterTurns): { outline: string; frame: Frame; filters: readonly DrawnFilter[] } {
  const turned = (points: readonly PlanPoint[]) =>
    points.map((point) => {
      const { across, ahead } = asFaced(point.x, point.y, facing, turns)
      return { x: across, y: -ahead }
    })
  const outline = turned(outlineOf(plan.room.body.shape))
  const box = boxOf(outline)
  const margin = Math.max(box.width, box.height) * 0.04 + 0.1
  return {
    outline: asPath(outline),
    frame: { x: box.x - margin, y: box.y - margin, width: box.width + 2 * margin, height: box.height + 2 * margin },
    filters: plan.filters.map((filter) => ({
      id: filter.terminalId,
      tag: filter.terminal.body.tag,
      corners: turned(filter.way === 'plane' ? (filter.zone?.body.boundary ?? []) : terminalCorners(filter.terminal.body)),
    })),
  }
}

type FiltersProps = { viewBox: string; outline: string; filters: readonly DrawnFilter[]; verdicts: ReadonlyMap<Uuid, Verdict> }

/** Hundreds of shapes: drawn anew when a verdict changes, not when the person goes on to the next filter. */
const Filters = memo(function Filters({ viewBox, outline, filters, verdicts }: FiltersProps) {
  return (
    <svg viewBox={viewBox} aria-hidden="true">
      <path d={outline} className={styles.room} vectorEffect="non-scaling-stroke" />
      {filters.map((filter) => {
        const verdict = verdicts.get(filter.id) ?? 'not_tested'
        return (
          <g key={filter.id} style={{ stroke: VERDICT_COLOUR[verdict] }}>
            <path
              d={asPath(filter.corners)}
              data-verdict={verdict}
              style={{ fill: VERDICT_GROUND[verdict] }}
              vectorEffect="non-scaling-stroke"
            />
            {verdict === 'fail' || verdict === 'not_valid' ? (
              <path d={crossOf(filter.corners, verdict === 'not_valid')} vectorEffect="non-scaling-stroke" />
            ) : null}
          </g>
        )
      })}
    </svg>
  )
})

type SpotsProps = {
  frame: Frame
  filters: readonly DrawnFilter[]
  verdicts: ReadonlyMap<Uuid, Verdict>
  onPick: (terminalId: Uuid) => void
}

/** What a finger touches. The strip offers the same to the keyboard, with one stop instead of hundreds. */
const Spots = memo(function Spots({ frame, filters, verdicts, onPick }: SpotsProps) {
  const word = useVerdictWord()
  const percent = (part: number, whole: number) => `${(100 * part) / whole}%`
  return filters.map((filter) => {
    const box = boxOf(filter.corners)
    const name = `${filter.tag}, ${word(verdicts.get(filter.id) ?? 'not_tested')}`
    return (
      <button
        key={filter.id}
        type="button"
        tabIndex={-1}
        aria-label={name}
        title={name}
        className={styles.spot}
        style={{
          left: percent(box.x - frame.x, frame.width),
          top: percent(box.y - frame.y, frame.height),
          width: percent(box.width, frame.width),
          height: percent(box.height, frame.height),
        }}
        onMouseDown={(event) => event.preventDefault()}
        onClick={() => onPick(filter.id)}
      />
    )
  })
})

function boxOf(points: readonly { x: number; y: number }[]): Frame {
  const xs = points.map((point) => point.x)
  const ys = points.map((point) => point.y)
  const x = Math.min(...xs)
  const y = Math.min(...ys)
  return { x, y, width: Math.max(...xs) - x, height: Math.max(...ys) - y }
}

const asPath = (points: readonly { x: number; y: number }[]) => `M${points.map((point) => `${point.x} ${point.y}`).join('L')}Z`

/** One diagonal for a failure, two for what is not valid: told apart without colour. */
function crossOf([a, b, c, d]: readonly { x: number; y: number }[], both: boolean): string {
  if (!a || !b || !c || !d) return ''
  return `M${a.x} ${a.y}L${c.x} ${c.y}${both ? `M${b.x} ${b.y}L${d.x} ${d.y}` : ''}`
}
