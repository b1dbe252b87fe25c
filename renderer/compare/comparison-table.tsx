import { type KeyboardEvent, useEffect, useMemo, useRef, useState } from 'react'
import { useLocation } from 'wouter'
import type { ComparisonRow } from '#core/model/results.ts'
import { useSay } from '../app/session.tsx'
import { useWhy } from '../app/why.tsx'
import styles from './compare.module.css'
import { ComparisonHead, type Sort } from './comparison-head.tsx'
import { ComparisonLine } from './comparison-line.tsx'
import { barScalePercent, keyOf, sortedRows } from './row-filter.ts'
import { useRowsInSight } from './rows-in-sight.ts'

const PAGE_ROWS = 10

type ComparisonTableProps = { rows: readonly ComparisonRow[]; selectedKey: string | null; onSelect: (row: ComparisonRow) => void }

/** Rooms and filters then and now. Only the rows in sight exist; the table scrolls with the screen. */
export function ComparisonTable({ rows, selectedKey, onSelect }: ComparisonTableProps) {
  const t = useSay()
  const why = useWhy()
  const [, go] = useLocation()
  const [sort, setSort] = useState<Sort>({ key: 'worst', direction: 'ascending' })
  const ordered = useMemo(() => sortedRows(rows, sort.key, sort.direction), [rows, sort])
  const scalePercent = useMemo(() => barScalePercent(rows), [rows])
  const body = useRef<HTMLTableSectionElement>(null)
  const sight = useRowsInSight(body, ordered.length)
  const selectedIndex = ordered.findIndex((row) => keyOf(row) === selectedKey)
  const wantsFocus = useRef(false)
  useEffect(() => {
    if (!wantsFocus.current) return
    const button = body.current?.querySelector<HTMLElement>('[aria-selected="true"] button')
    if (!button) return
    wantsFocus.current = false
    button.focus({ preventScroll: true })
  })
  const step = (to: number) => {
    const next = Math.max(0, Math.min(ordered.length - 1, to))
    const row = ordered[next]
    if (!row) return
    wantsFocus.current = true
    sight.show(next)
    onSelect(row)
  }
  const onKeyDown = (event: KeyboardEvent, index: number) => {
    const steps: Record<string, number> = {
      ArrowDown: index + 1,
      ArrowUp: index - 1,
      PageDown: index + PAGE_ROWS,
      PageUp: index - PAGE_ROWS,
      Home: 0,
      End: ordered.length - 1,
    }
    const to = steps[event.key]
    const row = ordered[index]
    if (to !== undefined) step(to)
    else if (event.key === 'Enter' && row && index === selectedIndex) go(`/history/${row.id}`)
    else return
    event.preventDefault()
  }
  if (rows.length === 0) return <p className={styles.none}>{t('compare.none', {})}</p>
  return (
    <table className={styles.table} aria-rowcount={ordered.length + 1}>
      <caption className="visually-hidden">{t('compare.keys', {})}</caption>
      <ComparisonHead sort={sort} onSort={setSort} />
      <tbody ref={body}>
        <Spacer height={sight.above} />
        {sight.indexes.map((index) => {
          const row = ordered[index]
          return row ? (
            <ComparisonLine
              key={keyOf(row)}
              row={row}
              index={index}
              selected={index === selectedIndex}
              reachable={index === Math.max(0, selectedIndex)}
              scalePercent={scalePercent}
              onKeyDown={onKeyDown}
              onSelect={() => {
                onSelect(row)
                why.setOpen(true)
              }}
            />
          ) : null
        })}
        <Spacer height={sight.below} />
      </tbody>
    </table>
  )
}

/** Stands for the rows that are out of sight. One cell, not one across all: columns that a narrow stage hides would stay as gaps. */
function Spacer({ height }: { height: number }) {
  if (height <= 0) return null
  return (
    <tr>
      <td style={{ height: `${height}px`, padding: 0, border: 0 }} />
    </tr>
  )
}
