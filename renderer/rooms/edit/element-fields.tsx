import { useState } from 'react'
import type { EntityChange } from '#core/api/entities.ts'
import type { CommandName } from '#core/model/audit.ts'
import type { Entity } from '#core/model/entities.ts'
import { newId, useFormatter, useSay } from '#renderer/app/session.tsx'
import { Button } from '#renderer/ui/button.tsx'
import { TextField } from '#renderer/ui/text-field.tsx'
import styles from './panel.module.css'
import { replacedElement } from './room-changes.ts'

type ElementFieldsProps = {
  terminal: Entity<'terminal'>
  elements: readonly Entity<'filter_element'>[]
  change: (name: CommandName, changes: readonly EntityChange[], reason?: string) => void
}

/** Which filter sits in the terminal, and the ones that sat there before. */
export function ElementFields({ terminal, elements, change }: ElementFieldsProps) {
  const t = useSay()
  const formatter = useFormatter()
  const [serialNumber, setSerialNumber] = useState('')
  const [model, setModel] = useState('')
  const [installedOn, setInstalledOn] = useState('')
  const sorted = elements.toSorted((a, b) => b.body.installedOn.localeCompare(a.body.installedOn))
  const present = sorted.find((element) => element.body.removedOn === null) ?? null
  const early = present !== null && installedOn !== '' && installedOn < present.body.installedOn
  const put = () => {
    change(
      'edit',
      replacedElement(
        terminal.id,
        present,
        { serialNumber: serialNumber.trim(), model: model.trim(), installedOn, removedOn: null, note: '' },
        newId,
      ),
    )
    setSerialNumber('')
    setInstalledOn('')
  }
  return (
    <fieldset className={styles.group}>
      <legend>{t('map.element.title', {})}</legend>
      <ul className={styles.list}>
        {sorted.map((element) => (
          <li key={element.id}>
            {t('map.element.line', {
              serial: element.body.serialNumber,
              model: element.body.model,
              from: { date: formatter.date(element.body.installedOn) },
              to: { date: element.body.removedOn === null ? '' : formatter.date(element.body.removedOn) },
            })}
          </li>
        ))}
        {sorted.length === 0 ? <li>{t('map.element.none', {})}</li> : null}
      </ul>
      <div className={styles.pair}>
        <TextField label={t('map.element.serial', {})} value={serialNumber} onChange={setSerialNumber} maxLength={120} />
        <TextField label={t('map.element.model', {})} value={model} onChange={setModel} maxLength={120} />
      </div>
      <TextField
        label={t('map.element.installed_on', {})}
        type="date"
        value={installedOn}
        onChange={setInstalledOn}
        error={early ? t('map.element.too_early', {}) : null}
      />
      <Button icon="replaced" disabled={installedOn === '' || early} onClick={put}>
        {present ? t('map.element.replace', {}) : t('map.element.install', {})}
      </Button>
    </fieldset>
  )
}
