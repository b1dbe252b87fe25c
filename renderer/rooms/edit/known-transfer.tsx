import { useState } from 'react'
import type { Door } from '#core/model/places.ts'
import { Basis, type Entered } from '#core/model/values.ts'
import { useProject, useSay } from '#renderer/app/session.tsx'
import { Button } from '#renderer/ui/button.tsx'
import { EnteredField } from '#renderer/ui/entered-field.tsx'
import { Select } from '#renderer/ui/select.tsx'
import { TextField } from '#renderer/ui/text-field.tsx'
import styles from './panel.module.css'

type KnownTransferProps = { value: Door['transfer']; from: string; to: string; onCommit: (transfer: Door['transfer']) => void }

/** Air that is known to go through a door, only together with how it is known. */
export function KnownTransfer({ value, from, to, onCommit }: KnownTransferProps) {
  const t = useSay()
  const { display } = useProject().body
  const [flow, setFlow] = useState<Entered | null>(value?.flow ?? null)
  const [readable, setReadable] = useState(true)
  const [basis, setBasis] = useState<Basis>(value?.basis ?? 'actual')
  const [how, setHow] = useState(value?.how ?? '')
  const same = value !== null && flow?.typed === value.flow.typed && basis === value.basis && how.trim() === value.how
  return (
    <fieldset className={styles.group}>
      <legend>{t('measuring.transfer', {})}</legend>
      <EnteredField
        label={t('measuring.transfer.flow', { from, to })}
        hint={t('measuring.transfer.flow_hint', {})}
        unit={flow?.unit ?? display.flow}
        value={flow}
        onChange={(next, valid) => {
          setReadable(valid)
          if (valid) setFlow(next)
        }}
      />
      <div className={styles.pair}>
        <Select
          label={t('measuring.transfer.basis', {})}
          value={basis}
          choices={Basis.options.map((one) => ({ value: one, label: t('measuring.transfer.basis.choice', { of: { basis: one } }) }))}
          onChange={setBasis}
        />
        <TextField label={t('measuring.transfer.how', {})} value={how} onChange={setHow} maxLength={1000} />
      </div>
      <div className={styles.actions}>
        <Button
          disabled={!flow || !readable || how.trim() === '' || same}
          onClick={() => flow && onCommit({ flow, basis, how: how.trim() })}
        >
          {t('measuring.transfer.set', {})}
        </Button>
        {value ? (
          <Button
            kind="quiet"
            onClick={() => {
              setFlow(null)
              setHow('')
              onCommit(null)
            }}
          >
            {t('measuring.transfer.clear', {})}
          </Button>
        ) : null}
      </div>
    </fieldset>
  )
}
