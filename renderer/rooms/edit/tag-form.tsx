import { useState } from 'react'
import type { Entity } from '#core/model/entities.ts'
import { terminalCorners } from '#core/rooms/geometry.ts'
import { useSay } from '#renderer/app/session.tsx'
import { Why } from '#renderer/app/why.tsx'
import { Button } from '#renderer/ui/button.tsx'
import { Select } from '#renderer/ui/select.tsx'
import { TextField } from '#renderer/ui/text-field.tsx'
import { inSequence, SEQUENCE_PATHS, type SequencePath } from '../plan/reading-order.ts'
import { firstPattern, repeatedTags, tagSequence } from '../plan/tag-sequence.ts'
import type { RoomPlan } from '../room-plan.ts'
import styles from './panel.module.css'

type TagFormProps = {
  plan: RoomPlan
  terminals: readonly Entity<'terminal'>[]
  onTag: (tags: ReadonlyMap<string, string>) => void
  onCancel: () => void
}

/** New tags for the selection, counted along a walk over the plan. */
export function TagForm({ plan, terminals, onTag, onCancel }: TagFormProps) {
  const t = useSay()
  const [path, setPath] = useState<SequencePath>('rows')
  const placed = terminals.map((terminal) => ({
    id: terminal.id,
    x: terminal.body.x,
    y: terminal.body.y,
    corners: terminalCorners(terminal.body),
    tag: terminal.body.tag,
  }))
  const walk = inSequence(placed, path)
  const chosen = new Set(terminals.map((terminal) => terminal.id))
  const kept = plan.terminals.filter((terminal) => !chosen.has(terminal.id)).map((terminal) => terminal.body.tag)
  const [pattern, setPattern] = useState(() =>
    firstPattern(
      plan.room.body.number,
      terminals.map((terminal) => terminal.body.tag),
      kept,
    ),
  )
  const sequence = tagSequence(pattern, walk.length)
  const repeated = sequence.ok ? repeatedTags(sequence.tags, kept)[0] : undefined
  const error = sequence.ok ? (repeated === undefined ? null : t('map.tags.taken', { tag: repeated })) : t(sequence.problem, {})
  return (
    <Why title={t('map.tags.title', { n: terminals.length })}>
      <form
        className={styles.fields}
        onSubmit={(event) => {
          event.preventDefault()
          if (sequence.ok && repeated === undefined) onTag(new Map(walk.map((item, index) => [item.id, sequence.tags[index] ?? item.tag])))
        }}
      >
        <TextField
          label={t('map.tags.pattern', {})}
          value={pattern}
          onChange={setPattern}
          hint={t('map.tags.pattern.hint', {})}
          error={error}
          autoFocus
        />
        <Select
          label={t('map.tags.path', {})}
          value={path}
          choices={SEQUENCE_PATHS.map((one) => ({ value: one, label: t('map.tags.path.choice', { of: { path: one } }) }))}
          onChange={setPath}
        />
        {sequence.ok ? (
          <p className={styles.hint}>
            {t('map.tags.preview', { first: sequence.tags[0] ?? '', last: sequence.tags.at(-1) ?? '', was: walk[0]?.tag ?? '' })}
          </p>
        ) : null}
        <div className={styles.actions}>
          <Button type="submit" kind="primary" disabled={error !== null}>
            {t('map.tags.do', { n: terminals.length })}
          </Button>
          <Button kind="quiet" onClick={onCancel}>
            {t('app.cancel', {})}
          </Button>
        </div>
      </form>
    </Why>
  )
}
