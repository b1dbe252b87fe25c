import { useMemo, useState } from 'react'
import type { EntityBody } from '#core/model/entities.ts'
import type { Entered, PlanPoint } from '#core/model/values.ts'
import { outlineOf } from '#core/rooms/geometry.ts'
import { useFormatter, useProject, useSay } from '#renderer/app/session.tsx'
import { Why } from '#renderer/app/why.tsx'
import { Button } from '#renderer/ui/button.tsx'
import { EnteredField } from '#renderer/ui/entered-field.tsx'
import { Select } from '#renderer/ui/select.tsx'
import { TextField } from '#renderer/ui/text-field.tsx'
import { arrayPlaces, spreadOver } from '../plan/array-placement.ts'
import { misfitsOf } from '../plan/misfits.ts'
import { nextPattern, repeatedTags, tagSequence } from '../plan/tag-sequence.ts'
import { boundsOf } from '../plan/view-transform.ts'
import type { RoomPlan } from '../room-plan.ts'
import { freshTerminal, proposedEffectiveArea } from './fresh-bodies.ts'
import { shownLength } from './length-entry.ts'
import styles from './panel.module.css'

export type ArrayPlan = { readonly like: EntityBody<'terminal'>; readonly centres: readonly PlanPoint[]; readonly tags: readonly string[] }

type ArrayFormProps = {
  plan: RoomPlan
  like: EntityBody<'terminal'> | null
  onPreview: (centres: readonly PlanPoint[], width: number, depth: number) => void
  onPlace: (array: ArrayPlan) => void
  onCancel: () => void
}

const MOST_PLACES = 1000
const KINDS = ['supply_filter', 'fan_filter_unit', 'return_grille', 'exhaust_grille'] as const

/** A row or grid of equal terminals by typed numbers: rows, columns, pitch, first centre. Spread over the room to begin with. */
export function ArrayForm({ plan, like, onPreview, onPlace, onCancel }: ArrayFormProps) {
  const t = useSay()
  const formatter = useFormatter()
  const unit = useProject().body.display.length
  const outline = useMemo(() => boundsOf(outlineOf(plan.room.body.shape)), [plan.room.body.shape])
  const template = like ?? freshTerminal('', { x: 0, y: 0 }, null, unit)
  const [kind, setKind] = useState<(typeof KINDS)[number]>(KINDS.find((known) => known === template.kind) ?? 'supply_filter')
  const [rows, setRows] = useState('2')
  const [columns, setColumns] = useState('2')
  const [width, setWidth] = useState<Entered | null>(template.grossWidth)
  const [depth, setDepth] = useState<Entered | null>(template.grossDepth)
  const [own, setOwn] = useState<{ columnPitch?: Entered | null; rowPitch?: Entered | null; x?: Entered | null; y?: Entered | null }>({})
  const [pattern, setPattern] = useState(() =>
    nextPattern(
      plan.room.body.number,
      plan.terminals.map((terminal) => terminal.body.tag),
      like?.tag,
    ),
  )
  const count = { rows: wholeCount(rows), columns: wholeCount(columns) }
  const spread = outline && count.rows && count.columns ? spreadOver(outline, count.rows, count.columns) : null
  const fields = {
    columnPitch: own.columnPitch === undefined ? spread && shownLength(spread.columnPitchM, unit, formatter) : own.columnPitch,
    rowPitch: own.rowPitch === undefined ? spread && shownLength(spread.rowPitchM, unit, formatter) : own.rowPitch,
    x: own.x === undefined ? spread && shownLength(spread.first.x, unit, formatter) : own.x,
    y: own.y === undefined ? spread && shownLength(spread.first.y, unit, formatter) : own.y,
  }
  const total = (count.rows ?? 0) * (count.columns ?? 0)
  const centres =
    count.rows && count.columns && total <= MOST_PLACES && fields.columnPitch && fields.rowPitch && fields.x && fields.y
      ? arrayPlaces({
          rows: count.rows,
          columns: count.columns,
          columnPitchM: fields.columnPitch.si,
          rowPitchM: fields.rowPitch.si,
          first: { x: fields.x.si, y: fields.y.si },
        })
      : null
  const sequence = tagSequence(pattern, total)
  const repeated = sequence.ok
    ? repeatedTags(
        sequence.tags,
        plan.terminals.map((terminal) => terminal.body.tag),
      )[0]
    : undefined
  const patternError = sequence.ok ? (repeated === undefined ? null : t('map.tags.taken', { tag: repeated })) : t(sequence.problem, {})
  const sized = width && depth && width.si > 0 && depth.si > 0 ? { width, depth } : null
  const ready = centres && sized && sequence.ok && repeated === undefined

  const misfits = centres && sized ? misfitsOf(centres, sized.width.si, sized.depth.si, outlineOf(plan.room.body.shape)) : null

  const showPreview = () => onPreview(centres ?? [], width?.si ?? 0, depth?.si ?? 0)
  const place = () => {
    if (!centres || !sized || !sequence.ok) return
    const same = like && like.grossWidth.si === sized.width.si && like.grossDepth.si === sized.depth.si
    onPlace({
      centres,
      tags: sequence.tags,
      like: {
        ...template,
        kind,
        note: '',
        closed: null,
        grossWidth: sized.width,
        grossDepth: sized.depth,
        effectiveArea: same ? like.effectiveArea : proposedEffectiveArea(sized.width.si, sized.depth.si, unit === 'm' ? 'm2' : 'ft2'),
      },
    })
  }
  const length = (key: 'columnPitch' | 'rowPitch' | 'x' | 'y') => (
    <EnteredField
      label={t('map.array.field', { of: { key } })}
      unit={unit}
      value={fields[key]}
      onChange={(value) => setOwn({ ...own, [key]: value })}
    />
  )
  return (
    <Why title={t('map.array.title', {})}>
      <form
        className={styles.fields}
        onSubmit={(event) => {
          event.preventDefault()
          place()
        }}
        onKeyUp={showPreview}
        onFocus={showPreview}
      >
        <p className={styles.hint}>{t('map.array.about', {})}</p>
        <div className={styles.pair}>
          <TextField label={t('map.array.rows', {})} value={rows} onChange={setRows} autoFocus error={countError(rows, t)} />
          <TextField label={t('map.array.columns', {})} value={columns} onChange={setColumns} error={countError(columns, t)} />
        </div>
        {total > MOST_PLACES ? <p className={styles.error}>{t('map.array.too_many', { most: MOST_PLACES })}</p> : null}
        <div className={styles.pair}>
          <EnteredField label={t('map.prop.width', {})} unit={unit} value={width} onChange={(value) => setWidth(value)} />
          <EnteredField label={t('map.prop.depth', {})} unit={unit} value={depth} onChange={(value) => setDepth(value)} />
        </div>
        <div className={styles.pair}>
          {length('columnPitch')}
          {length('rowPitch')}
          {length('x')}
          {length('y')}
        </div>
        <Select
          label={t('map.prop.kind', {})}
          value={kind}
          choices={KINDS.map((one) => ({ value: one, label: t('map.kind', { of: { kind: one } }) }))}
          onChange={setKind}
        />
        <TextField
          label={t('map.tags.pattern', {})}
          value={pattern}
          onChange={setPattern}
          hint={t('map.tags.pattern.hint', {})}
          error={patternError}
        />
        {misfits && misfits.outside > 0 ? <p className={styles.hint}>{t('map.array.outside', { n: misfits.outside })}</p> : null}
        {misfits?.overlapping ? <p className={styles.hint}>{t('map.array.overlapping', {})}</p> : null}
        <div className={styles.actions}>
          <Button type="submit" kind="primary" disabled={!ready}>
            {t('map.array.place', { n: total })}
          </Button>
          <Button kind="quiet" onClick={onCancel}>
            {t('app.cancel', {})}
          </Button>
        </div>
      </form>
    </Why>
  )
}

/** A count from 1 to 200, or null. */
export function wholeCount(text: string): number | null {
  const count = Number(text)
  return text.trim() !== '' && Number.isInteger(count) && count >= 1 && count <= 200 ? count : null
}

export function countError(text: string, t: ReturnType<typeof useSay>): string | null {
  return wholeCount(text) === null ? t('map.field.number', { least: 1, most: 200, whole: true }) : null
}
