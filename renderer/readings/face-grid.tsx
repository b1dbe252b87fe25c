import { type CSSProperties, useMemo, useRef } from 'react'
import type { Location } from '#core/model/readings.ts'
import { useSay } from '../app/session.tsx'
import type { CellLook } from './cell-look.ts'
import { cellId, cellOfPoint, type OnStage, useStageForm } from './cell-of-point.ts'
import styles from './face.module.css'
import { FaceCell } from './face-cell.tsx'
import { type Direction, type FacePlace, type QuarterTurns, sizeOf, turnedSize, turnPlace } from './face-view.ts'
import { useFocusAt } from './use-focus-at.ts'

type FaceGridProps = OnStage & {
  tag: string
  /** the plane of a zone, and not the face of a filter */
  plane: boolean
  points: readonly Location[]
  looks: readonly CellLook[]
  turns: QuarterTurns
  /** width over height of the face as it hangs before the person */
  aspect: number
  onGo: (point: number) => void
}

/** The filter's face as the technician sees it: up is the way he faces, right is his right hand. Its points keep their numbers. */
export function FaceGrid({ tag, plane, points, looks, turns, aspect, onGo, ...on }: FaceGridProps) {
  const t = useSay()
  const face = useRef<HTMLElement>(null)
  const own = useMemo(() => sizeOf(points), [points])
  const size = turnedSize(own, turns)
  const places = useMemo(() => points.map((point) => turnPlace(point, own, turns)), [points, own, turns])
  const form = useStageForm(looks, on.preview)
  useFocusAt(face, on.currentPoint === null ? null : cellId(on.currentPoint))

  // The face fills its place as far as cells stay between square and twice as wide as high, or true to the face beyond that: figures
  // have to be read at arm's length, and the order of the points is what must never change.
  const cells = size.columns / size.rows
  const bounds = { '--narrowest': Math.min(aspect, cells), '--widest': Math.max(aspect, 2 * cells) }
  return (
    <div className={styles.frame} style={bounds as CSSProperties}>
      <section
        ref={face}
        aria-label={t(plane ? 'ways.plane' : 'readings.face', { tag, rows: size.rows, columns: size.columns })}
        className={styles.grid}
        style={{
          gridTemplateRows: `repeat(${size.rows}, minmax(44px, 1fr))`,
          gridTemplateColumns: `repeat(${size.columns}, minmax(44px, 1fr))`,
        }}
      >
        {looks.map((look, index) => {
          const place = places[index]
          if (!place) return null
          const shown = cellOfPoint(look, on, form)
          return (
            <FaceCell
              key={look.point}
              {...shown}
              towards={towards(place, places[index + 1])}
              row={place.row}
              column={place.column}
              outside={shown.preview ? null : look.outside}
              limit={shown.preview ? '' : look.limit}
              onGo={onGo}
            />
          )
        })}
      </section>
    </div>
  )
}

/** Which edge of a cell the way to the next point leaves by. */
function towards(from: FacePlace, to: FacePlace | undefined): Direction | null {
  if (!to) return null
  if (to.row === from.row) return to.column > from.column ? 'right' : 'left'
  if (to.column === from.column) return to.row < from.row ? 'ahead' : 'behind'
  return null
}
