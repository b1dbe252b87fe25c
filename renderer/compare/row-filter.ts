import { worseThan } from '#core/criteria/roll-up.ts'
import type { ComparisonRow } from '#core/model/results.ts'
import { type SortState, sortRows } from '../ui/sort-rows.ts'

export type RowKind = 'all' | 'room' | 'filter'
export type VerdictFilter = 'any' | 'worse' | 'better' | 'not_pass' | 'break'
export type RowFilter = {
  readonly kind: RowKind
  readonly verdict: VerdictFilter
  readonly text: string
  /** keys of the rows that a line of the summary speaks of; null shows all */
  readonly only: ReadonlySet<string> | null
}

export const EVERY_ROW: RowFilter = { kind: 'all', verdict: 'any', text: '', only: null }

/** A room and its filter may share no identity, but a row of each kind may: the kind belongs to the key. */
export const keyOf = (row: ComparisonRow): string => `${row.kind} ${row.id}`

function fitsVerdict(row: ComparisonRow, wanted: VerdictFilter): boolean {
  switch (wanted) {
    case 'any':
      return true
    case 'worse':
      return worseThan(row.verdictNow, row.verdictThen) > 0
    case 'better':
      return worseThan(row.verdictNow, row.verdictThen) < 0
    case 'not_pass':
      return row.verdictNow !== 'pass' && row.verdictNow !== 'not_applicable'
    case 'break':
      return row.breaks.length > 0
  }
}

/** The rows that fit, in the order they came in. Text is looked for in the label, letters of any size. */
export function filterRows(rows: readonly ComparisonRow[], filter: RowFilter): ComparisonRow[] {
  const text = filter.text.trim().toLowerCase()
  return rows.filter(
    (row) =>
      (filter.kind === 'all' || row.kind === filter.kind) &&
      (filter.only === null || filter.only.has(keyOf(row))) &&
      (text === '' || row.label.toLowerCase().includes(text)) &&
      fitsVerdict(row, filter.verdict),
  )
}

export type SortKey = 'worst' | 'place' | 'now' | 'percent'

/** `worst` keeps the order of the comparison itself: what got worst comes first. */
export function sortedRows(rows: readonly ComparisonRow[], key: SortKey, direction: SortState['direction']): readonly ComparisonRow[] {
  switch (key) {
    case 'worst':
      return rows
    case 'place':
      return sortRows(rows, (row) => row.label, direction)
    case 'now':
      return sortRows(rows, (row) => row.figure.later, direction)
    case 'percent':
      return sortRows(rows, (row) => row.figure.changePercent, direction)
  }
}

/** Half the width of the bars in percent: every shown change fits, and small ones do not fill the scale. */
export function barScalePercent(rows: readonly ComparisonRow[]): number {
  const least = 5
  const greatest = rows.reduce((most, row) => Math.max(most, Math.abs(row.figure.changePercent ?? 0)), 0)
  return Math.max(least, Math.min(greatest, 60))
}
