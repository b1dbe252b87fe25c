import { useQuery } from '@tanstack/react-query'
import { useMemo } from 'react'
import { Link, useLocation } from 'wouter'
import type { CriteriaSet } from '#core/model/criteria.ts'
import type { Entity } from '#core/model/entities.ts'
import { api, orpc } from '../app/client.ts'
import { newCommand, newId, useCanChange, useFailureText, useSay } from '../app/session.tsx'
import { useNoWhy } from '../app/why.tsx'
import { Busy } from '../ui/busy.tsx'
import { Button } from '../ui/button.tsx'
import { type Column, DataTable } from '../ui/data-table.tsx'
import { EmptyState } from '../ui/empty-state.tsx'
import { Panel, ScreenHead } from '../ui/panel.tsx'
import { useToast } from '../ui/toast.tsx'
import styles from './criteria.module.css'

type ListedSet = { readonly set: Entity<'criteria_set'>; readonly rooms: number; readonly zones: number }

/** The project's criteria sets, and the sets to start from. */
export function CriteriaScreen() {
  useNoWhy()
  const t = useSay()
  const failureText = useFailureText()
  const canChange = useCanChange()
  const [, go] = useLocation()
  const query = useQuery(orpc.entities.list.queryOptions({ input: { kinds: ['criteria_set', 'room', 'zone'], within: null } }))
  const sets = useMemo(() => (query.data ? withUse(query.data) : null), [query.data])
  const columns = useColumns()
  return (
    <div className={styles.screen}>
      <ScreenHead
        title={t('criteria.title', {})}
        about={t('criteria.about', {})}
        actions={
          <Button icon="add" disabled={!canChange} onClick={() => go('/criteria/new')}>
            {t('criteria.new', {})}
          </Button>
        }
      />
      {query.error ? <p role="alert">{failureText(query.error)}</p> : null}
      {query.isPending ? <Busy label={t('app.loading', {})} /> : null}
      {sets ? (
        <DataTable
          caption={t('criteria.own', {})}
          columns={columns}
          rows={sets}
          rowKey={({ set }) => set.id}
          onSelect={({ set }) => go(`/criteria/${set.id}`)}
          empty={
            <EmptyState icon="criteria" title={t('criteria.empty', {})}>
              {t('criteria.empty_text', {})}
            </EmptyState>
          }
        />
      ) : null}
      <StartingSets />
    </div>
  )
}

function withUse(entities: readonly Entity[]): ListedSet[] {
  const rooms = new Map<string, number>()
  const zones = new Map<string, number>()
  for (const entity of entities) {
    if (entity.kind === 'room' && entity.body.criteriaSetId)
      rooms.set(entity.body.criteriaSetId, (rooms.get(entity.body.criteriaSetId) ?? 0) + 1)
    if (entity.kind === 'zone' && entity.body.criteriaSetId)
      zones.set(entity.body.criteriaSetId, (zones.get(entity.body.criteriaSetId) ?? 0) + 1)
  }
  return entities
    .filter((entity) => entity.kind === 'criteria_set')
    .map((set) => ({ set, rooms: rooms.get(set.id) ?? 0, zones: zones.get(set.id) ?? 0 }))
    .sort((a, b) => a.set.body.name.localeCompare(b.set.body.name))
}

function useColumns(): Column<ListedSet>[] {
  const t = useSay()
  return [
    {
      key: 'name',
      heading: t('criteria.column.name', {}),
      cell: ({ set }) => <Link href={`/criteria/${set.id}`}>{set.body.name}</Link>,
      sortBy: ({ set }) => set.body.name,
    },
    {
      key: 'revision',
      heading: t('criteria.column.revision', {}),
      number: true,
      cell: ({ set }) => set.revision,
      sortBy: ({ set }) => set.revision,
    },
    {
      key: 'criteria',
      heading: t('criteria.column.criteria', {}),
      number: true,
      cell: ({ set }) => {
        const on = set.body.criteria.filter((criterion) => criterion.on).length
        return t('criteria.count', { on, off: set.body.criteria.length - on })
      },
    },
    { key: 'used', heading: t('criteria.column.used', {}), cell: ({ rooms, zones }) => t('criteria.used', { rooms, zones }) },
    {
      key: 'rule',
      heading: t('criteria.column.rule', {}),
      cell: ({ set }) => t('criteria.rule', { decisionRule: set.body.decisionRule, comparison: set.body.comparison }),
    },
  ]
}

function StartingSets() {
  const t = useSay()
  const canChange = useCanChange()
  const toast = useToast()
  const [, go] = useLocation()
  const starting = useQuery(orpc.criteria.starting.queryOptions())
  if (!starting.data) return null
  const adopt = async (body: CriteriaSet) => {
    const id = newId()
    try {
      const change = { kind: 'criteria_set', id, parentId: null, revision: null, body } as const
      await api.entities.change({ command: newCommand(), name: 'create', scope: 'project', changes: [change] })
      toast.note(t('criteria.adopted', { name: body.name }))
      go(`/criteria/${id}`)
    } catch (error) {
      toast.problem(error)
    }
  }
  return (
    <Panel title={t('criteria.starting', {})}>
      <div className={styles.starting}>
        {starting.data.map((set) => (
          <section key={set.name} className={styles.startingSet} aria-label={set.name}>
            <div className={styles.startingHead}>
              <h3>{set.name}</h3>
              <Button disabled={!canChange} aria-label={t('criteria.adopt_named', { name: set.name })} onClick={() => void adopt(set)}>
                {t('criteria.adopt', {})}
              </Button>
            </div>
            <ul className={styles.rules}>
              {set.criteria.map((criterion) => (
                <li key={criterion.key}>
                  <p>
                    {criterion.title} · <strong>{t('criteria.form_words', { form: criterion.form })}</strong>
                    {criterion.on ? null : <span className={styles.faint}> · {t('criteria.off', {})}</span>}
                  </p>
                  <p className={styles.criterionSmall}>{criterion.source}</p>
                </li>
              ))}
            </ul>
          </section>
        ))}
      </div>
    </Panel>
  )
}
