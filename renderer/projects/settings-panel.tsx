import { useState } from 'react'
import { LANGUAGES, type Language } from '#core/messages/say.ts'
import type { Entity } from '#core/model/entities.ts'
import { useChange } from '../app/change.ts'
import { api, orpc, queryClient } from '../app/client.ts'
import { failureOf } from '../app/failure.ts'
import { useCanChange, useSay, useSentence, useSession } from '../app/session.tsx'
import { Button } from '../ui/button.tsx'
import { Panel } from '../ui/panel.tsx'
import { Select } from '../ui/select.tsx'
import { TextField } from '../ui/text-field.tsx'
import { useToast } from '../ui/toast.tsx'
import { DisplayUnitsFields } from './display-units-fields.tsx'
import styles from './project.module.css'
import { isTimeZone, TimeZoneField } from './time-zone-field.tsx'

export function SettingsPanel({ project }: { project: Entity<'project'> }) {
  const t = useSay()
  const sentence = useSentence()
  const toast = useToast()
  const canChange = useCanChange()
  const change = useChange({ quiet: true })
  const [body, setBody] = useState(project.body)
  const changed = JSON.stringify(body) !== JSON.stringify(project.body)
  const nameError = body.name.trim() === '' ? t('projects.needs.name', {}) : null
  const zoneError = isTimeZone(body.timeZone) ? null : t('projects.needs.time_zone', { text: body.timeZone })
  const save = () => {
    if (nameError || zoneError) return
    change.mutate(
      {
        name: 'edit',
        changes: [
          {
            kind: 'project',
            id: project.id,
            parentId: null,
            revision: project.revision,
            body: { ...body, name: body.name.trim(), timeZone: body.timeZone.trim() },
          },
        ],
      },
      { onSuccess: () => toast.note(t('projects.settings.saved', {})) },
    )
  }
  return (
    <Panel title={t('projects.settings.head', {})}>
      <form
        className={styles.form}
        onSubmit={(event) => {
          event.preventDefault()
          save()
        }}
      >
        <TextField
          label={t('projects.field.name', {})}
          value={body.name}
          onChange={(name) => setBody({ ...body, name })}
          error={nameError}
          maxLength={120}
          disabled={!canChange}
        />
        <TextField
          label={t('projects.field.organisation', {})}
          value={body.organisation}
          onChange={(organisation) => setBody({ ...body, organisation })}
          maxLength={200}
          disabled={!canChange}
        />
        <TimeZoneField
          value={body.timeZone}
          onChange={(timeZone) => setBody({ ...body, timeZone })}
          error={zoneError}
          disabled={!canChange}
        />
        <DisplayUnitsFields value={body.display} onChange={(display) => setBody({ ...body, display })} />
        <TextField
          label={t('projects.field.note', {})}
          value={body.note}
          onChange={(note) => setBody({ ...body, note })}
          lines={3}
          maxLength={4000}
          disabled={!canChange}
        />
        {change.isError ? (
          <p role="alert" className={styles.problem}>
            {sentence(failureOf(change.error).sentence)}
          </p>
        ) : null}
        <div className={styles.actions}>
          <Button kind="primary" type="submit" disabled={!canChange || !changed || change.isPending}>
            {t('app.save', {})}
          </Button>
        </div>
      </form>
      <LanguageChoice />
    </Panel>
  )
}

function LanguageChoice() {
  const t = useSay()
  const { files } = useSession()
  const word = { en: t('projects.language.en', {}), pseudo: t('projects.language.pseudo', {}) } satisfies Record<Language, string>
  const value = LANGUAGES.find((language) => language === files?.language) ?? 'en'
  return (
    <Select
      label={t('projects.settings.language', {})}
      value={value}
      choices={LANGUAGES.map((language) => ({ value: language, label: word[language] }))}
      onChange={(language) =>
        void api.files.settings({ language }).then(() => queryClient.invalidateQueries({ queryKey: orpc.files.key() }))
      }
    />
  )
}
