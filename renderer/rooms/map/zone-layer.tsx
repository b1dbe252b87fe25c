import { memo } from 'react'
import type { Verdict } from '#core/model/criteria.ts'
import type { Entity } from '#core/model/entities.ts'
import { VERDICT_COLOUR } from '#renderer/ui/verdict-patterns.tsx'
import { innerPlace } from '../plan/inner-place.ts'
import type { Rect } from '../plan/rect.ts'
import { boundsOf, toPixel, type View } from '../plan/view-transform.ts'
import styles from './plan.module.css'
import { pathOf } from './svg-path.ts'
import { textWidth } from './text-width.ts'

export type ZoneLook = { readonly zone: Entity<'zone'>; readonly verdict: Verdict | null; readonly caption: string }

/** Unidirectional areas, outlined in their verdict's colour. */
export const ZoneLayer = memo(function ZoneLayer({ zones, selected }: { zones: readonly ZoneLook[]; selected: ReadonlySet<string> }) {
  return (
    <g>
      {zones.map(({ zone, verdict }) => (
        <path
          key={zone.id}
          data-id={zone.id}
          d={pathOf(zone.body.boundary)}
          className={styles.zone}
          data-selected={selected.has(zone.id) ? '' : undefined}
          style={verdict && verdict !== 'not_tested' ? { stroke: VERDICT_COLOUR[verdict] } : undefined}
        />
      ))}
    </g>
  )
})

const NAME_FONT = '650 12.5px "Source Sans 3 Variable"'
const NAME_AT = { x: 2, y: -6 }

/** Where the names of zones stand on the window. */
export function zoneNameRects(zones: readonly ZoneLook[], view: View): Rect[] {
  return zones.flatMap(({ zone, caption }) => {
    const bounds = boundsOf(zone.body.boundary)
    if (!bounds) return []
    const at = toPixel(view, { x: bounds.left, y: bounds.top })
    return [{ left: at.x, top: at.y + NAME_AT.y - 12, width: textWidth(caption, NAME_FONT) + 6, height: 16 }]
  })
}

/** Name and verdict word of each zone at its upper left corner. */
export function ZoneNames({ zones, view }: { zones: readonly ZoneLook[]; view: View }) {
  return zones.map(({ zone, verdict, caption }) => {
    const bounds = boundsOf(zone.body.boundary)
    if (!bounds) return null
    const at = toPixel(view, { x: bounds.left, y: bounds.top })
    return (
      <text
        key={zone.id}
        data-id={zone.id}
        x={at.x + NAME_AT.x}
        y={at.y + NAME_AT.y}
        className={styles.zoneName}
        style={verdict && verdict !== 'not_tested' ? { fill: VERDICT_COLOUR[verdict] } : undefined}
      >
        {caption}
      </text>
    )
  })
}

/** Numbers of the rooms around, where their outline leaves room for them. */
export function NeighbourNames({
  rooms,
  view,
}: {
  rooms: readonly { id: string; number: string; corners: readonly { x: number; y: number }[] }[]
  view: View
}) {
  return rooms.map(({ id, number, corners }) => {
    const bounds = boundsOf(corners)
    if (!bounds || (bounds.right - bounds.left) * view.pxPerM < 70 || (bounds.top - bounds.bottom) * view.pxPerM < 26) return null
    const place = innerPlace(corners)
    if (!place) return null
    const at = toPixel(view, place)
    return (
      <text key={id} x={at.x} y={at.y + 4} textAnchor="middle" className={styles.neighbourName}>
        {number}
      </text>
    )
  })
}
