import { useState } from 'react'
import type { Entered, PlanPoint, PlanShape } from '#core/model/values.ts'
import { outlineOf } from '#core/rooms/geometry.ts'
import { useFormatter, useProject, useSay } from '#renderer/app/session.tsx'
import { Button, IconButton } from '#renderer/ui/button.tsx'
import { EnteredField } from '#renderer/ui/entered-field.tsx'
import { Select } from '#renderer/ui/select.tsx'
import { isRoom, pullWall, wallsOf } from '../plan/walls.ts'
import { CommittedEntered } from './committed-fields.tsx'
import { shownLength } from './length-entry.ts'
import styles from './panel.module.css'

/** A room's shape by typed lengths and coordinates: the equal of drawing it. */
export function ShapeFields({ shape, onChange }: { shape: PlanShape; onChange: (shape: PlanShape) => void }) {
  const t = useSay()
  const formatter = useFormatter()
  const unit = useProject().body.display.length
  return (
    <fieldset className={styles.group}>
      <legend>{t('map.shape.title', {})}</legend>
      {shape.kind === 'rectangle' ? (
        <>
          <div className={styles.pair}>
            {(['width', 'depth', 'x', 'y'] as const).map((side) => (
              <CommittedEntered
                key={side}
                label={t('map.shape.side', { of: { side } })}
                unit={unit}
                value={shownLength(shape[side], unit, formatter)}
                refuse={(value) =>
                  (side === 'width' || side === 'depth') && value.si <= 0 ? { code: 'rule.above_zero', params: {} } : null
                }
                onCommit={(value) => value && onChange({ ...shape, [side]: value.si })}
              />
            ))}
          </div>
          <Button kind="quiet" onClick={() => onChange({ kind: 'polygon', points: outlineOf(shape) })}>
            {t('map.shape.to_polygon', {})}
          </Button>
        </>
      ) : (
        <CornerFields corners={shape.points} onChange={(points) => onChange({ kind: 'polygon', points })} />
      )}
      <PullFields shape={shape} onChange={onChange} />
    </fieldset>
  )
}

/** Corners of a free outline, one line each. */
export function CornerFields({ corners, onChange }: { corners: readonly PlanPoint[]; onChange: (corners: PlanPoint[]) => void }) {
  const t = useSay()
  const formatter = useFormatter()
  const unit = useProject().body.display.length
  // A corner has no identity but its place in the walk around the room.
  const places = corners.map((corner, index) => ({ corner, index, key: `corner ${index}` }))
  const put = (index: number, corner: PlanPoint) => onChange(corners.map((old, at) => (at === index ? corner : old)))
  const refuse = (index: number, axis: 'x' | 'y') => (value: Entered) =>
    isRoom(corners.map((old, at) => (at === index ? { ...old, [axis]: value.si } : old)))
      ? null
      : { code: 'rule.outline_crosses', params: {} }
  return (
    <>
      {places.map(({ corner, index, key }) => (
        <div key={key} className={styles.triple}>
          {(['x', 'y'] as const).map((axis) => (
            <CommittedEntered
              key={axis}
              label={t('map.shape.corner', { n: index + 1, of: { axis } })}
              unit={unit}
              value={shownLength(corner[axis], unit, formatter)}
              refuse={refuse(index, axis)}
              onCommit={(value) => value && put(index, { ...corner, [axis]: value.si })}
            />
          ))}
          <IconButton
            icon="remove"
            label={t('map.shape.corner_remove', { n: index + 1 })}
            disabled={corners.length <= 3 || !isRoom(corners.filter((_, at) => at !== index))}
            onClick={() => onChange(corners.filter((_, at) => at !== index))}
          />
        </div>
      ))}
      <Button
        kind="quiet"
        icon="add"
        onClick={() => {
          const [first, last] = [corners[0], corners.at(-1)]
          if (first && last) onChange([...corners, { x: (first.x + last.x) / 2, y: (first.y + last.y) / 2 }])
        }}
      >
        {t('map.shape.corner_add', {})}
      </Button>
    </>
  )
}

/** Pulls one wall by a typed distance. */
function PullFields({ shape, onChange }: { shape: PlanShape; onChange: (shape: PlanShape) => void }) {
  const t = useSay()
  const formatter = useFormatter()
  const unit = useProject().body.display.length
  const [index, setIndex] = useState(0)
  const [by, setBy] = useState<Entered | null>(null)
  const walls = wallsOf(outlineOf(shape))
  const wall = walls[index] ?? walls[0]
  const pulled = by && wall ? pullWall(shape, wall.index, by.si) : null
  return (
    <div className={styles.fields}>
      <Select
        label={t('map.shape.pull_which', {})}
        value={String(wall?.index ?? 0)}
        choices={walls.map((one) => ({
          value: String(one.index),
          label: t('map.shape.wall', {
            n: one.index + 1,
            length: formatter.quantity(one.lengthM, 'length'),
            to: { x: one.outward.x, y: one.outward.y },
          }),
        }))}
        onChange={(chosen) => setIndex(Number(chosen))}
      />
      <div className={styles.triple}>
        <EnteredField label={t('map.shape.pull_by', {})} unit={unit} value={by} onChange={(value) => setBy(value)} />
        <span />
        <Button
          disabled={!pulled}
          onClick={() => {
            if (pulled) onChange(pulled)
            setBy(null)
          }}
        >
          {t('map.shape.pull', {})}
        </Button>
      </div>
      {by && !pulled ? <p className={styles.error}>{t('map.shape.pull_impossible', {})}</p> : null}
    </div>
  )
}
