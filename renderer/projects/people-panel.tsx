import { useState } from 'react'
import type { Entity } from '#core/model/entities.ts'
import { useChange } from '../app/change.ts'
import { PersonDialog, useRoleWord } from '../app/person-dialog.tsx'
import { useCanChange, useSay, useSession } from '../app/session.tsx'
import { Button, IconButton } from '../ui/button.tsx'
import { type Column, DataTable } from '../ui/data-table.tsx'
import { Panel } from '../ui/panel.tsx'

export function PeoplePanel() {
  const t = useSay()
  const roleWord = useRoleWord()
  const { people } = useSession()
  const canChange = useCanChange()
  const change = useChange()
  const [adding, setAdding] = useState(false)
  const setActive = (person: Entity<'person'>, active: boolean) =>
    change.mutate({
      name: 'edit',
      changes: [{ kind: 'person', id: person.id, parentId: null, revision: person.revision, body: { ...person.body, active } }],
    })
  const columns: Column<Entity<'person'>>[] = [
    { key: 'name', heading: t('app.person.name', {}), cell: (person) => person.body.name, sortBy: (person) => person.body.name },
    { key: 'role', heading: t('app.person.role', {}), cell: (person) => roleWord(person.body.role), sortBy: (person) => person.body.role },
    { key: 'organisation', heading: t('app.person.organisation', {}), cell: (person) => person.body.organisation },
    {
      key: 'active',
      heading: t('projects.people.active', {}),
      cell: (person) => (
        <IconButton
          icon={person.body.active ? 'check' : 'remove'}
          label={
            person.body.active
              ? t('projects.people.set_left', { name: person.body.name })
              : t('projects.people.set_back', { name: person.body.name })
          }
          disabled={!canChange}
          onClick={() => setActive(person, !person.body.active)}
        />
      ),
    },
  ]
  return (
    <Panel
      title={t('projects.people', {})}
      flush
      actions={
        <Button icon="add" kind="quiet" onClick={() => setAdding(true)}>
          {t('app.person.add', {})}
        </Button>
      }
    >
      <DataTable caption={t('projects.people', {})} columns={columns} rows={people} rowKey={(person) => person.id} />
      <PersonDialog open={adding} onClose={() => setAdding(false)} />
    </Panel>
  )
}
