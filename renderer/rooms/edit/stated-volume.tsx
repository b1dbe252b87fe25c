import { useState } from 'react'
import type { EntityBody } from '#core/model/entities.ts'
import type { Entered } from '#core/model/values.ts'
import { useProject, useSay } from '#renderer/app/session.tsx'
import { Button } from '#renderer/ui/button.tsx'
import { EnteredField } from '#renderer/ui/entered-field.tsx'
import { TextField } from '#renderer/ui/text-field.tsx'
import styles from './panel.module.css'

type Stated = EntityBody<'room'>['statedVolume']

/** A volume that replaces the computed one, only together with its reason. */
export function StatedVolume({ value, onCommit }: { value: Stated; onCommit: (value: Stated) => void }) {
  const t = useSay()
  const unit = useProject().body.display.length === 'm' ? 'm3' : 'ft3'
  const [volume, setVolume] = useState<Entered | null>(value?.volume ?? null)
  const [reason, setReason] = useState(value?.reason ?? '')
  const positive = volume === null || volume.si > 0
  return (
    <fieldset className={styles.group}>
      <legend>{t('map.volume.title', {})}</legend>
      <div className={styles.pair}>
        <EnteredField
          label={t('map.prop.volume', {})}
          unit={unit}
          value={volume}
          onChange={(next) => setVolume(next)}
          error={positive ? null : t('rule.above_zero', {})}
        />
        <TextField label={t('map.volume.reason', {})} value={reason} onChange={setReason} maxLength={1000} />
      </div>
      <div className={styles.actions}>
        <Button
          disabled={!volume || !positive || reason.trim() === ''}
          onClick={() => volume && onCommit({ volume, reason: reason.trim() })}
        >
          {t('map.volume.set', {})}
        </Button>
        {value ? (
          <Button kind="quiet" onClick={() => onCommit(null)}>
            {t('map.volume.clear', {})}
          </Button>
        ) : null}
      </div>
    </fieldset>
  )
}
