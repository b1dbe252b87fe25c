import { memo } from 'react'
import type { PlanPoint } from '#core/model/values.ts'
import { useFormatter } from '#renderer/app/session.tsx'
import type { PlaneCell } from '../plan/plane-cells.ts'
import { type ShadeRange, shadeOf } from '../plan/velocity-shade.ts'
import { toPixel, type View } from '../plan/view-transform.ts'
import styles from './plane-layer.module.css'
import { textWidth } from './text-width.ts'

type PlaneLayerProps = {
  cells: readonly PlaneCell[]
  range: ShadeRange | null
  /** outlines of the filters, which the cells would hide */
  faces: readonly (readonly PlanPoint[])[]
  view: View
}

const FONT = '600 12.5px "Source Sans 3 Variable"'
const LINE_PX = 16
/** A mark beside the value, and in its place where there is no room for it. */
const MARK_PX = 5

/** A measuring plane cell by cell (the legend says it in words): velocity as shade and value; outside the limits hatched, edged and marked with a cross. */
export const PlaneLayer = memo(function PlaneLayer({ cells, range, faces, view }: PlaneLayerProps) {
  const formatter = useFormatter()
  const texts = cells.map(({ meanMps }) => (meanMps === null ? '' : formatter.number(meanMps, 'velocity')))
  const widest = Math.max(0, ...texts.map((text) => textWidth(text, FONT)))
  const [first] = cells
  const roomy = first !== undefined && first.widthM * view.pxPerM > widest + 8 && first.depthM * view.pxPerM > LINE_PX + 4
  return (
    <svg aria-hidden="true" className={styles.plane} overflow="visible">
      {cells.map((cell, index) => (
        <CellGround key={cell.point} cell={cell} range={range} view={view} marked={!roomy || texts[index] === ''} />
      ))}
      {faces.map((corners) => {
        const points = corners.map((corner) => toPixel(view, corner)).map(({ x, y }) => `${x},${y}`)
        return <polygon key={points[0]} points={points.join(' ')} className={styles.filter} />
      })}
      {/* Above the outlines, which would strike the figures through. */}
      {roomy
        ? cells.map((cell, index) => <CellFigure key={cell.point} cell={cell} range={range} view={view} text={texts[index] ?? ''} />)
        : null}
    </svg>
  )
})

type CellProps = { cell: PlaneCell; range: ShadeRange | null; view: View }

function CellGround({ cell, range, view, marked }: CellProps & { marked: boolean }) {
  const { centre, widthM, depthM, meanMps, within } = cell
  const at = toPixel(view, { x: centre.x - widthM / 2, y: centre.y + depthM / 2 })
  const middle = toPixel(view, centre)
  const size = { width: widthM * view.pxPerM, height: depthM * view.pxPerM }
  const shade = meanMps !== null && range ? shadeOf(meanMps, range) : null
  const isOutside = within === false
  return (
    <g>
      <rect x={at.x} y={at.y} {...size} className={styles.cell} data-empty={shade ? undefined : ''} fill={shade?.fill ?? 'none'} />
      {isOutside ? (
        <>
          <rect x={at.x} y={at.y} {...size} fill="url(#hatch-fail)" />
          <rect
            x={at.x + 1.5}
            y={at.y + 1.5}
            width={Math.max(0, size.width - 3)}
            height={Math.max(0, size.height - 3)}
            className={styles.outside}
          />
          {marked ? <OutsideMark x={middle.x} y={middle.y} /> : null}
        </>
      ) : null}
    </g>
  )
}

function CellFigure({ cell, range, view, text }: CellProps & { text: string }) {
  const { centre, widthM, depthM, meanMps, within } = cell
  if (text === '') return null
  const middle = toPixel(view, centre)
  const corner = toPixel(view, { x: centre.x + widthM / 2, y: centre.y + depthM / 2 })
  return (
    <g>
      <text
        x={middle.x}
        y={middle.y + 4}
        className={styles.value}
        data-ink={meanMps !== null && range ? shadeOf(meanMps, range).ink : undefined}
      >
        {text}
      </text>
      {within === false ? <OutsideMark x={corner.x - MARK_PX - 3} y={corner.y + MARK_PX + 3} /> : null}
    </g>
  )
}

/** A cross on a light disc: told apart without any colour. */
export function OutsideMark({ x, y }: { x: number; y: number }) {
  const half = MARK_PX - 1.5
  return (
    <g>
      <circle cx={x} cy={y} r={MARK_PX + 1} className={styles.disc} />
      <path d={`M${x - half} ${y - half}l${2 * half} ${2 * half}m0 ${-2 * half}l${-2 * half} ${2 * half}`} className={styles.cross} />
    </g>
  )
}
