import { useState } from 'react'
import type { EntityBody } from '#core/model/entities.ts'
import { api } from '../app/client.ts'
import { failureOf, isAboutField } from '../app/failure.ts'
import { ROLES, useRoleWord } from '../app/person-dialog.tsx'
import { useFailureText, useSay } from '../app/session.tsx'
import { Busy } from '../ui/busy.tsx'
import { Button } from '../ui/button.tsx'
import { Icon } from '../ui/icon.tsx'
import { Panel } from '../ui/panel.tsx'
import { Select } from '../ui/select.tsx'
import { TextField } from '../ui/text-field.tsx'
import { usePlaceChooser } from './choose-place.tsx'
import { proposedName } from './chooser-name.ts'
import { DisplayUnitsFields, METRIC } from './display-units-fields.tsx'
import { useEnterProject } from './enter-project.ts'
import styles from './new-project.module.css'
import { isTimeZone, ownTimeZone, TimeZoneField } from './time-zone-field.tsx'

type Field = 'name' | 'timeZone' | 'person' | 'place'

export function NewProjectForm({ onCancel }: { onCancel: () => void }) {
  const t = useSay()
  const roleWord = useRoleWord()
  const failureText = useFailureText()
  const enter = useEnterProject()
  const chooser = usePlaceChooser()
  const [name, setName] = useState('')
  const [organisation, setOrganisation] = useState('')
  const [timeZone, setTimeZone] = useState(ownTimeZone)
  const [display, setDisplay] = useState<EntityBody<'project'>['display']>(METRIC)
  const [personName, setPersonName] = useState('')
  const [role, setRole] = useState<EntityBody<'person'>['role']>('certifier')
  const [place, setPlace] = useState<string | null>(null)
  const [tried, setTried] = useState(false)

  const missing: Record<Field, string | null> = {
    name: name.trim() === '' ? t('projects.needs.name', {}) : null,
    timeZone: isTimeZone(timeZone) ? null : t('projects.needs.time_zone', { text: timeZone }),
    person: personName.trim() === '' ? t('projects.needs.person', {}) : null,
    place: null,
  }
  const failure = enter.isError ? failureOf(enter.error) : null
  const errorAt = (field: Field) => (tried ? missing[field] : null)
  const placeError = failure && isAboutField(failure, 'path') ? failureText(enter.error) : null

  const create = (path: string) =>
    enter.mutate({
      what: name.trim(),
      path: null,
      open: () =>
        api.files.create({
          path,
          project: { name: name.trim(), organisation: organisation.trim(), timeZone: timeZone.trim(), display, note: '' },
          person: { name: personName.trim(), role, organisation: organisation.trim(), active: true },
        }),
    })
  const choosePlace = (then: (path: string) => void) =>
    chooser.choose('save_project', proposedName(name), (path) => {
      setPlace(path)
      enter.reset()
      then(path)
    })
  const submit = () => {
    setTried(true)
    if (Object.values(missing).some((problem) => problem !== null)) return
    if (place) create(place)
    else choosePlace(create)
  }

  return (
    <Panel title={t('projects.new', {})}>
      <form
        className={styles.form}
        noValidate
        onSubmit={(event) => {
          event.preventDefault()
          submit()
        }}
      >
        <TextField
          label={t('projects.field.name', {})}
          hint={t('projects.field.name_hint', {})}
          value={name}
          onChange={setName}
          error={errorAt('name')}
          maxLength={120}
          autoFocus
          large
        />
        <TextField
          label={t('projects.field.organisation', {})}
          hint={t('projects.field.organisation_hint', {})}
          value={organisation}
          onChange={setOrganisation}
          maxLength={200}
          large
        />
        <TextField
          label={t('projects.field.person', {})}
          hint={t('projects.field.person_hint', {})}
          value={personName}
          onChange={setPersonName}
          error={errorAt('person')}
          maxLength={120}
          large
        />
        <Select
          label={t('app.person.role', {})}
          value={role}
          onChange={setRole}
          choices={ROLES.map((value) => ({ value, label: roleWord(value) }))}
          large
        />
        <TimeZoneField large value={timeZone} onChange={setTimeZone} error={errorAt('timeZone')} />
        <DisplayUnitsFields value={display} onChange={setDisplay} />
        <div className={styles.place}>
          <span className={styles.placeLabel}>{t('projects.field.place', {})}</span>
          <span className={styles.placePath}>{place ?? t('projects.field.place_none', {})}</span>
          <Button icon="folder" onClick={() => choosePlace(() => undefined)}>
            {t('projects.choose_place', {})}
          </Button>
        </div>
        {failure ? (
          <p role="alert" className={styles.problem}>
            <Icon name="warn" />
            {placeError ?? failureText(enter.error)}
          </p>
        ) : null}
        <div className={styles.actions}>
          {enter.isPending ? <Busy label={t('projects.creating', {})} /> : null}
          <Button onClick={onCancel} large>
            {t('app.cancel', {})}
          </Button>
          <Button kind="primary" type="submit" large disabled={enter.isPending}>
            {t('projects.create', {})}
          </Button>
        </div>
      </form>
      {chooser.dialog}
    </Panel>
  )
}
