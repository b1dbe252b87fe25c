export type SortState = { readonly key: string; readonly direction: 'ascending' | 'descending' }

const byName = new Intl.Collator(undefined, { numeric: true, sensitivity: 'base' })

/** Rows in order of a value: numbers by size, texts as people number things (F-9 before F-10), absent values last either way. */
export function sortRows<Row>(rows: readonly Row[], by: (row: Row) => number | string | null, direction: SortState['direction']): Row[] {
  const sign = direction === 'ascending' ? 1 : -1
  return [...rows].sort((a, b) => {
    const left = by(a)
    const right = by(b)
    if (left === null || right === null) return Number(left === null) - Number(right === null)
    if (typeof left === 'number' && typeof right === 'number') return sign * (left - right)
    return sign * byName.compare(String(left), String(right))
  })
}
