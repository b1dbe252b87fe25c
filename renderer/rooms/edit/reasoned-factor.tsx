import { useState } from 'react'
import type { EntityBody } from '#core/model/entities.ts'
import { plainNumberOf } from '#core/units/plain-number.ts'
import { useSay } from '#renderer/app/session.tsx'
import { Button } from '#renderer/ui/button.tsx'
import { TextField } from '#renderer/ui/text-field.tsx'
import styles from './panel.module.css'

type Factor = EntityBody<'terminal'>['correctionFactor']

/** No factor of the trade is larger, so that "1,050" is one a little above 1. */
const MOST_FACTOR = 999

/** A correction factor is set together with its reason, or not at all. */
export function ReasonedFactor({ value, onCommit }: { value: Factor; onCommit: (value: Factor) => void }) {
  const t = useSay()
  const [factor, setFactor] = useState(value ? String(value.factor) : '')
  const [reason, setReason] = useState(value?.reason ?? '')
  const [uncertainty, setUncertainty] = useState(value?.uncertaintyPercent == null ? '' : String(value.uncertaintyPercent))
  const number = plainNumberOf(factor, { least: 0, most: MOST_FACTOR })
  const wrong = factor.trim() !== '' && !(number > 0)
  const percent = uncertainty.trim() === '' ? null : plainNumberOf(uncertainty, { least: 0, most: 50 })
  const wrongPercent = Number.isNaN(percent)
  const ready = factor.trim() !== '' && !wrong && !wrongPercent && reason.trim() !== ''
  const same = value !== null && number === value.factor && reason.trim() === value.reason && percent === value.uncertaintyPercent
  return (
    <fieldset className={styles.group}>
      <legend>{t('map.prop.factor', {})}</legend>
      <div className={styles.pair}>
        <TextField
          label={t('map.prop.factor.value', {})}
          value={factor}
          onChange={setFactor}
          error={wrong ? t('map.field.number', { least: 0, most: MOST_FACTOR, whole: false }) : null}
        />
        <TextField label={t('map.prop.factor.reason', {})} value={reason} onChange={setReason} maxLength={1000} />
      </div>
      <TextField
        label={t('measuring.factor_uncertainty', {})}
        hint={t('measuring.uncertainty_hint', {})}
        value={uncertainty}
        onChange={setUncertainty}
        error={wrongPercent ? t('map.field.number', { least: 0, most: 50, whole: false }) : null}
      />
      <div className={styles.actions}>
        <Button disabled={!ready || same} onClick={() => onCommit({ factor: number, reason: reason.trim(), uncertaintyPercent: percent })}>
          {t('map.prop.factor.set', {})}
        </Button>
        {value ? (
          <Button
            kind="quiet"
            onClick={() => {
              setFactor('')
              setReason('')
              onCommit(null)
            }}
          >
            {t('map.prop.factor.clear', {})}
          </Button>
        ) : null}
      </div>
    </fieldset>
  )
}
