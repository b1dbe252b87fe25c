import { useQuery } from '@tanstack/react-query'
import { useMemo, useRef, useState } from 'react'
import { Link } from 'wouter'
import type { Comparison, ComparisonRow } from '#core/model/results.ts'
import { orpc } from '../app/client.ts'
import { useFailureText, useSay } from '../app/session.tsx'
import { NoWhy, useWhy } from '../app/why.tsx'
import { Busy } from '../ui/busy.tsx'
import { EmptyState } from '../ui/empty-state.tsx'
import { ScreenHead } from '../ui/panel.tsx'
import { Select } from '../ui/select.tsx'
import styles from './compare.module.css'
import { type CompareChoice, useCompareChoice } from './compare-choice.ts'
import { ComparisonTable } from './comparison-table.tsx'
import { FilterBar } from './filter-bar.tsx'
import { OtherCriteria } from './other-criteria.tsx'
import { EVERY_ROW, filterRows, keyOf, type RowFilter } from './row-filter.ts'
import { RowWhy } from './row-why.tsx'
import { Summary } from './summary.tsx'

/** One visit against another: what a reader has to know first, then every room and filter, what got worst on top. */
export function CompareScreen() {
  const t = useSay()
  const failureText = useFailureText()
  const choice = useCompareChoice()
  const { now, earlier: then, roomId } = choice
  const query = useQuery(
    orpc.compare.certifications.queryOptions({
      input: { thenId: then?.id ?? '', nowId: now?.id ?? '', roomId },
      enabled: now !== null && then !== null,
    }),
  )
  if (!now || !then) {
    return (
      <>
        <NoWhy />
        <EmptyState icon="compare" title={t('compare.needs_two', {})} action={<Link href="/plan">{t('compare.plan', {})}</Link>}>
          {t('compare.needs_two_text', {})}
        </EmptyState>
      </>
    )
  }
  return (
    <div className={styles.screen}>
      <ScreenHead title={t('compare.title', {})} about={t('compare.about', { now: now.body.name })} actions={<Choices choice={choice} />} />
      {query.error ? <p role="alert">{failureText(query.error)}</p> : null}
      {query.isPending ? <Busy label={t('compare.busy', {})} /> : null}
      {query.data ? <Compared key={`${then.id} ${now.id} ${roomId}`} comparison={query.data} choice={choice} /> : null}
    </div>
  )
}

function Choices({ choice }: { choice: CompareChoice }) {
  const t = useSay()
  const rooms = useQuery(orpc.entities.list.queryOptions({ input: { kinds: ['room'], within: null } }))
  const inScope = new Set(choice.now?.body.roomIds)
  const roomChoices = (rooms.data ?? []).flatMap((room) =>
    room.kind === 'room' && inScope.has(room.id) ? [{ value: room.id, label: `${room.body.number} ${room.body.name}` }] : [],
  )
  return (
    <div className={styles.choices}>
      <Select
        label={t('compare.against', {})}
        value={choice.earlier?.id ?? null}
        choices={choice.candidates.map((candidate) => ({ value: candidate.id, label: candidate.body.name }))}
        onChange={choice.chooseThen}
      />
      <Select
        label={t('compare.scope', {})}
        value={choice.roomId ?? 'site'}
        choices={[{ value: 'site', label: t('compare.scope.site', {}) }, ...roomChoices]}
        onChange={(value) => choice.chooseRoom(value === 'site' ? null : value)}
      />
    </div>
  )
}

function Compared({ comparison, choice }: { comparison: Comparison; choice: CompareChoice }) {
  const why = useWhy()
  const table = useRef<HTMLElement>(null)
  const [filter, setFilter] = useState<RowFilter>(EVERY_ROW)
  const [selectedKey, setSelectedKey] = useState<string | null>(() => {
    const first = comparison.rows[0]
    return first ? keyOf(first) : null
  })
  const rows = useMemo(() => filterRows(comparison.rows, filter), [comparison.rows, filter])
  const selected = comparison.rows.find((row) => keyOf(row) === selectedKey) ?? null
  const showEvidence = (evidence: readonly ComparisonRow[]) => {
    setFilter({ ...EVERY_ROW, only: new Set(evidence.map(keyOf)) })
    setSelectedKey(evidence[0] ? keyOf(evidence[0]) : null)
    why.setOpen(true)
    table.current?.scrollIntoView({ block: 'nearest' })
  }
  return (
    <>
      <div className={styles.top}>
        <Summary comparison={comparison} onShow={showEvidence} shown={filter.only} />
        <OtherCriteria
          choice={choice}
          onShow={(roomId) => {
            const ofRoom = comparison.rows.filter((row) => row.roomId === roomId || (row.kind === 'room' && row.id === roomId))
            showEvidence(ofRoom.toSorted((one, other) => Number(other.kind === 'room') - Number(one.kind === 'room')))
          }}
        />
      </div>
      <section ref={table} className={styles.shownRows}>
        <FilterBar filter={filter} onChange={setFilter} shown={rows.length} of={comparison.rows.length} />
        <ComparisonTable rows={rows} selectedKey={selectedKey} onSelect={(row) => setSelectedKey(keyOf(row))} />
      </section>
      {selected ? <RowWhy row={selected} thenId={comparison.thenId} nowId={comparison.nowId} /> : null}
    </>
  )
}
