import { memo, useMemo } from 'react'
import type { PlanPoint } from '#core/model/values.ts'
import { type LabelRequest, overlaps, type PlacedLabel, placeLabels, type Rect } from '../plan/label-placement.ts'
import { boundsOf, type Size, toPixel, type View } from '../plan/view-transform.ts'
import styles from './plan.module.css'
import { textWidth } from './text-width.ts'

export type FaceText = {
  readonly id: string
  readonly corners: readonly PlanPoint[]
  readonly tag: string
  /** worth showing in this order; the tag may be among them */
  readonly lines: readonly string[]
  readonly weight: number
  /** ink on a velocity shade; null takes the theme's */
  readonly ink: 'black' | 'white' | null
}

const LINE_PX = 15
const FONT = '600 12.5px "Source Sans 3 Variable"'
const STYLE = { lineHeight: LINE_PX, widthOf: (line: string) => textWidth(line, FONT) + 2, padding: 3 }

/** Values on the faces, as many as the zoom has room for. Drawn for the resting view; moves with the sheet in between. */
export const LabelLayer = memo(function LabelLayer({ faces, view, size }: { faces: readonly FaceText[]; view: View; size: Size }) {
  const labels = useMemo(() => labelsOf(faces, view, size), [faces, view, size])
  const texts = useMemo(() => new Map(faces.map((face) => [face.id, face])), [faces])
  return (
    <svg className={styles.labels} aria-hidden="true" overflow="visible">
      {labels.map((label) => {
        const face = texts.get(label.id)
        return face ? <Label key={label.id} label={label} face={face} /> : null
      })}
    </svg>
  )
})

function Label({ label, face }: { label: PlacedLabel; face: FaceText }) {
  const middle = label.rect.left + label.rect.width / 2
  // The tag reads first, though the value is worth more where only one line fits.
  const lines = label.lines.toSorted((a, b) => Number(b === face.tag) - Number(a === face.tag))
  const ink = label.inside ? face.ink : null
  return (
    <text x={middle} textAnchor="middle" data-ink={ink ?? undefined}>
      {lines.map((line, index) => (
        <tspan
          key={line}
          x={middle}
          y={label.rect.top + index * LINE_PX + LINE_PX * 0.78}
          className={line === face.tag ? styles.tag : undefined}
        >
          {line}
        </tspan>
      ))}
    </text>
  )
}

function labelsOf(faces: readonly FaceText[], view: View, size: Size): PlacedLabel[] {
  const window: Rect = { left: 0, top: 0, width: size.width, height: size.height }
  const requests: LabelRequest[] = []
  for (const { id, corners, lines, weight } of faces) {
    const bounds = boundsOf(corners)
    if (!bounds) continue
    const upperLeft = toPixel(view, { x: bounds.left, y: bounds.top })
    const face = {
      left: upperLeft.x,
      top: upperLeft.y,
      width: (bounds.right - bounds.left) * view.pxPerM,
      height: (bounds.top - bounds.bottom) * view.pxPerM,
    }
    if (overlaps(face, window)) requests.push({ id, face, lines, weight })
  }
  return placeLabels(requests, window, STYLE)
}
