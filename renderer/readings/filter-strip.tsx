import { useVirtualizer } from '@tanstack/react-virtual'
import { memo, useEffect, useMemo, useRef } from 'react'
import type { Verdict } from '#core/model/criteria.ts'
import type { RunResult } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { useSay } from '../app/session.tsx'
import { useVerdictWord, VerdictShape } from '../ui/verdict-mark.tsx'
import styles from './filter-strip.module.css'
import type { RunDesk } from './run-desk.ts'
import type { FilterPlan, RunPlan } from './run-plan.ts'
import { useFilterView } from './use-run-desk.ts'

type FilterStripProps = {
  desk: RunDesk
  plan: RunPlan
  result: RunResult | null
  current: Uuid | null
  /** of the filter at hand, ahead of the engine */
  currentVerdict: Verdict | null
  onPick: (terminalId: Uuid) => void
}

/** Longer tags are written smaller. */
const LONG_TAG = 12

/** Wide enough for the longest tag of the run, within reason: a tag is what the technician looks for. */
function itemWidth(filters: RunPlan['filters']): number {
  const longest = Math.max(0, ...filters.map((filter) => filter.terminal.body.tag.length))
  return longest <= LONG_TAG ? 116 : Math.min(200, 24 + 6.9 * longest)
}

/** All filters of the run in path order, only those in sight drawn: tag, progress, verdict. */
export function FilterStrip({ desk, plan, result, current, currentVerdict, onPick }: FilterStripProps) {
  const t = useSay()
  const scroller = useRef<HTMLDivElement>(null)
  const verdicts = useMemo(() => new Map(result?.filters.map((filter) => [filter.terminalId, filter.verdict])), [result])
  const width = useMemo(() => itemWidth(plan.filters), [plan])
  const strip = useVirtualizer({
    horizontal: true,
    count: plan.filters.length,
    getScrollElement: () => scroller.current,
    estimateSize: () => width,
    overscan: 4,
  })
  const index = current ? (plan.filterOf.get(current)?.index ?? -1) : -1
  useEffect(() => {
    if (index >= 0) strip.scrollToIndex(index, { align: 'auto' })
  }, [index, strip])
  return (
    <nav aria-label={t('readings.strip', {})} ref={scroller} className={styles.strip}>
      <ol className={styles.items} style={{ width: strip.getTotalSize() }}>
        {strip.getVirtualItems().map((item) => {
          const filter = plan.filters[item.index]
          if (!filter) return null
          const isCurrent = filter.terminalId === current
          return (
            <li key={filter.terminalId} className={styles.place} style={{ transform: `translateX(${item.start}px)`, width }}>
              <StripItem
                desk={desk}
                terminalId={filter.terminalId}
                tag={filter.terminal.body.tag}
                note={plan.run.body.method === 'room_airflow' ? filter : null}
                current={isCurrent}
                verdict={(isCurrent ? currentVerdict : null) ?? verdicts.get(filter.terminalId) ?? 'not_tested'}
                onPick={onPick}
              />
            </li>
          )
        })}
      </ol>
    </nav>
  )
}

type StripItemProps = {
  desk: RunDesk
  terminalId: Uuid
  tag: string
  /** how it is measured, where a run has several ways */
  note: Pick<FilterPlan, 'way' | 'carried'> | null
  current: boolean
  verdict: Verdict
  onPick: (id: Uuid) => void
}

const StripItem = memo(function StripItem({ desk, terminalId, tag, note, current, verdict, onPick }: StripItemProps) {
  const t = useSay()
  const word = useVerdictWord()
  const view = useFilterView(desk, terminalId)
  const filled = view?.filled ?? 0
  const places = view?.places ?? 0
  return (
    <button
      type="button"
      tabIndex={current ? 0 : -1}
      className={styles.item}
      aria-current={current ? 'step' : undefined}
      onPointerDown={(event) => event.preventDefault()}
      onClick={() => onPick(terminalId)}
    >
      <span className={styles.tag} data-long={tag.length > LONG_TAG ? '' : undefined}>
        {tag}
      </span>
      <span className={styles.progress}>
        <VerdictShape verdict={verdict} size={15} />
        {note?.carried == null ? t('readings.strip.progress', { filled, places }) : t('ways.carried_short', {})}
        {note ? <span className={styles.way}>{t('ways.short', { of: note })}</span> : null}
        <span className="visually-hidden">{word(verdict)}</span>
      </span>
      <span className={styles.bar} aria-hidden="true">
        <span style={{ width: `${places === 0 ? 0 : (100 * filled) / places}%` }} />
      </span>
    </button>
  )
})
