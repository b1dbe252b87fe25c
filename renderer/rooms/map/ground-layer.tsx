import { memo } from 'react'
import type { Entity } from '#core/model/entities.ts'
import type { PlanPoint } from '#core/model/values.ts'
import { outlineOf } from '#core/rooms/geometry.ts'
import styles from './plan.module.css'
import { pathOf } from './svg-path.ts'

/** The rooms around, faint, and the room's own floor and walls. */
export const GroundLayer = memo(function GroundLayer({
  outline,
  neighbours,
}: {
  outline: readonly PlanPoint[]
  neighbours: readonly Entity<'room'>[]
}) {
  return (
    <g>
      {neighbours.map((room) => (
        <path key={room.id} d={pathOf(outlineOf(room.body.shape))} className={styles.neighbour} />
      ))}
      <path d={pathOf(outline)} className={styles.floor} />
      <path d={pathOf(outline)} className={styles.wall} />
    </g>
  )
})

/** Doors as openings in the wall with the leaf half open. */
export const DoorLayer = memo(function DoorLayer({ doors, selected }: { doors: readonly Entity<'door'>[]; selected: ReadonlySet<string> }) {
  return (
    <g>
      {doors.map((door) => {
        const { x, y, width, rotationDegrees } = door.body
        return (
          <g
            key={door.id}
            data-id={door.id}
            transform={`translate(${x} ${-y}) rotate(${rotationDegrees})`}
            className={styles.door}
            data-selected={selected.has(door.id) ? '' : undefined}
          >
            <rect x={-width / 2} y={-0.09} width={width} height={0.18} className={styles.doorGap} />
            <path d={`M${-width / 2} 0L${-width / 2} ${-width}A${width} ${width} 0 0 1 ${width / 2} 0`} className={styles.doorLeaf} />
            <path d={`M${-width / 2} -0.09v0.18M${width / 2} -0.09v0.18`} className={styles.doorJamb} />
          </g>
        )
      })}
    </g>
  )
})
