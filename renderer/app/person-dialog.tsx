import { useState } from 'react'
import type { EntityBody } from '#core/model/entities.ts'
import { Button } from '../ui/button.tsx'
import { Dialog } from '../ui/dialog.tsx'
import { Icon } from '../ui/icon.tsx'
import { Select } from '../ui/select.tsx'
import { TextField } from '../ui/text-field.tsx'
import { api, queryClient } from './client.ts'
import styles from './person-dialog.module.css'
import { newId, useFailureText, useSay, useSession } from './session.tsx'

type Role = EntityBody<'person'>['role']

export function useRoleWord(): (role: Role) => string {
  const t = useSay()
  return (role) => {
    switch (role) {
      case 'certifier':
        return t('app.person.role.certifier', {})
      case 'technician':
        return t('app.person.role.technician', {})
      case 'quality':
        return t('app.person.role.quality', {})
    }
  }
}

export const ROLES: readonly Role[] = ['certifier', 'technician', 'quality']

/** Picks or adds the person whose name every change carries. */
export function PersonDialog({ open, onClose }: { open: boolean; onClose: () => void }) {
  const t = useSay()
  const word = useRoleWord()
  const { people, person, setPerson, files } = useSession()
  const active = people.filter((candidate) => candidate.body.active)
  const [adding, setAdding] = useState(false)
  return (
    <Dialog
      open={open}
      onClose={onClose}
      title={t('app.person.pick', {})}
      actions={
        person === null ? (
          <Button kind="quiet" onClick={onClose}>
            {t('app.person.look', {})}
          </Button>
        ) : undefined
      }
    >
      <p>{t('app.person.pick_text', {})}</p>
      <ul className={styles.people}>
        {active.map((candidate) => (
          <li key={candidate.id}>
            <button
              type="button"
              className={styles.person}
              aria-current={candidate.id === person?.id ? 'true' : undefined}
              onClick={() => {
                setPerson(candidate.id)
                onClose()
              }}
            >
              <Icon name="person" />
              <span className={styles.name}>{candidate.body.name}</span>
              <span className={styles.role}>{word(candidate.body.role)}</span>
            </button>
          </li>
        ))}
      </ul>
      {files?.open?.readOnly ? null : adding || active.length === 0 ? (
        <AddPerson onDone={onClose} />
      ) : (
        <Button icon="add" large onClick={() => setAdding(true)}>
          {t('app.person.add', {})}
        </Button>
      )}
    </Dialog>
  )
}

function AddPerson({ onDone }: { onDone: () => void }) {
  const t = useSay()
  const word = useRoleWord()
  const failureText = useFailureText()
  const { people, person, setPerson } = useSession()
  const [name, setName] = useState('')
  const [role, setRole] = useState<Role>('technician')
  const [organisation, setOrganisation] = useState('')
  const [error, setError] = useState<string | null>(null)

  const add = async () => {
    const wanted = name.trim()
    if (wanted === '') return setError(t('app.person.needs_name', {}))
    if (people.some((other) => other.body.active && other.body.name === wanted)) return setError(t('app.person.taken', { name: wanted }))
    const id = newId()
    try {
      await api.entities.change({
        // Somebody who is not in the project yet adds themselves.
        command: { id: newId(), personId: person?.id ?? id, reason: '' },
        name: 'create',
        scope: 'project',
        changes: [
          {
            kind: 'person',
            id,
            parentId: null,
            revision: null,
            body: { name: wanted, role, organisation: organisation.trim(), active: true },
          },
        ],
      })
      await queryClient.invalidateQueries({ queryKey: [['entities']] })
      setPerson(id)
      onDone()
    } catch (thrown) {
      setError(failureText(thrown))
    }
  }
  return (
    <form
      className={styles.form}
      onSubmit={(event) => {
        event.preventDefault()
        void add()
      }}
    >
      <TextField label={t('app.person.name', {})} value={name} onChange={setName} error={error} maxLength={120} autoFocus large />
      <Select
        label={t('app.person.role', {})}
        value={role}
        onChange={setRole}
        choices={ROLES.map((value) => ({ value, label: word(value) }))}
        large
      />
      <TextField label={t('app.person.organisation', {})} value={organisation} onChange={setOrganisation} maxLength={200} large />
      <Button kind="primary" type="submit" large>
        {t('app.person.add_and_pick', {})}
      </Button>
    </form>
  )
}
