import { useQuery } from '@tanstack/react-query'
import { useMemo, useState } from 'react'
import type { Entity } from '#core/model/entities.ts'
import { useChange } from '../app/change.ts'
import { api, orpc } from '../app/client.ts'
import { newCommand, newId, useCanChange, useFormatter, useProject, useSay } from '../app/session.tsx'
import { FormFoot } from '../forms/form-foot.tsx'
import forms from '../forms/forms.module.css'
import { useForm } from '../forms/use-form.ts'
import { Button, IconButton } from '../ui/button.tsx'
import { type Column, DataTable } from '../ui/data-table.tsx'
import { Dialog } from '../ui/dialog.tsx'
import { EnteredField } from '../ui/entered-field.tsx'
import { Panel } from '../ui/panel.tsx'
import { TextField } from '../ui/text-field.tsx'
import { airSystemProblems, FRESH_SYSTEM } from './air-system-form.ts'

type System = Entity<'air_system'>
type Row = { readonly system: System; readonly terminals: number }

/** The air systems of a facility: their names and what their fans should move. */
export function AirSystemsDialog({ facility, onClose }: { facility: Entity<'facility'>; onClose: () => void }) {
  const t = useSay()
  const canChange = useCanChange()
  const [editing, setEditing] = useState<System | 'new' | null>(null)
  const query = useQuery(orpc.entities.list.queryOptions({ input: { kinds: ['air_system', 'terminal'], within: facility.id } }))
  const rows = useMemo(() => rowsOf(query.data ?? []), [query.data])
  const columns = useColumns(setEditing)
  return (
    <Dialog open wide onClose={onClose} title={t('systems.title', { facility: facility.body.name })}>
      <div className={forms.stack}>
        <p>{t('systems.about', {})}</p>
        <DataTable
          caption={t('systems.title', { facility: facility.body.name })}
          columns={columns}
          rows={rows}
          rowKey={({ system }) => system.id}
          empty={<p>{t('systems.none', {})}</p>}
        />
        <div>
          <Button icon="add" disabled={!canChange || editing === 'new'} onClick={() => setEditing('new')}>
            {t('systems.add', {})}
          </Button>
        </div>
        {editing ? (
          <SystemForm
            key={editing === 'new' ? 'new' : `${editing.id} ${editing.revision}`}
            facilityId={facility.id}
            system={editing === 'new' ? null : editing}
            others={rows.flatMap(({ system }) => (editing !== 'new' && system.id === editing.id ? [] : [system.body.name]))}
            onDone={() => setEditing(null)}
          />
        ) : null}
      </div>
    </Dialog>
  )
}

function rowsOf(entities: readonly Entity[]): Row[] {
  const counts = new Map<string, number>()
  for (const entity of entities) {
    if (entity.kind !== 'terminal' || entity.body.airSystemId === null) continue
    counts.set(entity.body.airSystemId, (counts.get(entity.body.airSystemId) ?? 0) + 1)
  }
  return entities
    .filter((entity) => entity.kind === 'air_system')
    .map((system) => ({ system, terminals: counts.get(system.id) ?? 0 }))
    .sort((a, b) => a.system.body.name.localeCompare(b.system.body.name, undefined, { numeric: true }))
}

function useColumns(edit: (system: System) => void): Column<Row>[] {
  const t = useSay()
  const f = useFormatter()
  const canChange = useCanChange()
  const change = useChange()
  const design = (part: 'designSupply' | 'designReturn' | 'designExhaust', heading: string): Column<Row> => ({
    key: part,
    heading,
    unit: f.unit('flow'),
    number: true,
    sortBy: ({ system }) => system.body[part]?.si ?? null,
    cell: ({ system }) => f.number(system.body[part]?.si ?? null, 'flow'),
  })
  return [
    {
      key: 'name',
      heading: t('systems.name', {}),
      sortBy: ({ system }) => system.body.name,
      cell: ({ system }) => (
        <Button kind="link" disabled={!canChange} onClick={() => edit(system)}>
          {system.body.name}
        </Button>
      ),
    },
    design('designSupply', t('systems.supply', {})),
    design('designReturn', t('systems.return', {})),
    design('designExhaust', t('systems.exhaust', {})),
    {
      key: 'terminals',
      heading: t('systems.terminals', {}),
      number: true,
      sortBy: ({ terminals }) => terminals,
      cell: ({ terminals }) => terminals,
    },
    {
      key: 'remove',
      heading: '',
      cell: ({ system, terminals }) => (
        <IconButton
          icon="close"
          label={terminals > 0 ? t('systems.in_use', { count: terminals }) : t('systems.remove', { name: system.body.name })}
          disabled={!canChange || terminals > 0}
          onClick={() =>
            change.mutate({
              name: 'remove',
              changes: [{ kind: 'air_system', id: system.id, parentId: system.parentId, revision: system.revision, body: null }],
            })
          }
        />
      ),
    },
  ]
}

type SystemFormProps = { facilityId: string; system: System | null; others: readonly string[]; onDone: () => void }

function SystemForm({ facilityId, system, others, onDone }: SystemFormProps) {
  const t = useSay()
  const { display } = useProject().body
  const form = useForm({
    key: `air system ${system?.id ?? `of ${facilityId}`}`,
    start: system?.body ?? FRESH_SYSTEM,
    check: (body) => airSystemProblems(body, others),
    submit: async (body) => {
      const id = system?.id ?? newId()
      const revision = system?.revision ?? null
      const change = { kind: 'air_system', id, parentId: facilityId, revision, body: { ...body, name: body.name.trim() } } as const
      await api.entities.change({ command: newCommand(), name: system ? 'edit' : 'create', scope: 'project', changes: [change] })
      onDone()
    },
  })
  const flow = (part: 'designSupply' | 'designReturn' | 'designExhaust', label: string) => (
    <EnteredField
      label={label}
      unit={form.form[part]?.unit ?? display.flow}
      value={form.form[part]}
      onChange={(value, valid) => {
        form.unreadable(part, !valid)
        if (valid) form.set({ [part]: value })
      }}
      error={form.problem(part)}
    />
  )
  return (
    <Panel level={3} title={system ? t('systems.edit', { name: system.body.name }) : t('systems.new', {})}>
      <div className={forms.grid}>
        <TextField
          label={t('systems.name', {})}
          value={form.form.name}
          autoFocus
          maxLength={120}
          onChange={(name) => form.set({ name })}
          error={form.problem('name')}
        />
        {flow('designSupply', t('systems.supply', {}))}
        {flow('designReturn', t('systems.return', {}))}
        {flow('designExhaust', t('systems.exhaust', {}))}
        <p className={forms.whole}>{t('systems.design_hint', {})}</p>
        <TextField
          className={forms.whole}
          label={t('systems.note', {})}
          value={form.form.note}
          lines={2}
          maxLength={4000}
          onChange={(note) => form.set({ note })}
        />
      </div>
      <FormFoot form={form} isNew={system === null} />
    </Panel>
  )
}
