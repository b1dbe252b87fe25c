import { type ReactNode, useMemo, useState } from 'react'
import { useSay } from '../app/words.tsx'
import { joined } from './class-names.ts'
import styles from './data-table.module.css'
import { Icon } from './icon.tsx'
import { type SortState, sortRows } from './sort-rows.ts'

export type Column<Row> = {
  key: string
  heading: ReactNode
  /** unit, once and small, in the heading */
  unit?: string
  cell: (row: Row) => ReactNode
  /** makes the column sortable; null goes last either way */
  sortBy?: (row: Row) => number | string | null
  /** numbers stand to the right, in tabular figures */
  number?: boolean
  /** heads its row for assistive technology; the first column does when none says so */
  rowHeading?: boolean
  width?: string
}

type DataTableProps<Row> = {
  /** read out as the table's name */
  caption: string
  columns: readonly Column<Row>[]
  rows: readonly Row[]
  rowKey: (row: Row) => string
  /** makes rows selectable by click; give the row's first cell a link or button too, so that the keyboard reaches it */
  onSelect?: (row: Row) => void
  selectedKey?: string | null
  /** something inside the row got the focus: lets a selection follow the keyboard */
  onFocusRow?: (row: Row) => void
  startSort?: SortState
  /** in place of rows, when there are none */
  empty?: ReactNode
  rowClass?: (row: Row) => string | undefined
  className?: string
}

/** A plain table with a head that stays in sight and columns that sort. */
export function DataTable<Row>(props: DataTableProps<Row>) {
  const { caption, columns, rows, rowKey, onSelect, onFocusRow, selectedKey, startSort, empty, rowClass, className } = props
  const t = useSay()
  const [sort, setSort] = useState<SortState | null>(startSort ?? null)
  const sorted = useMemo(() => {
    const by = columns.find((column) => column.key === sort?.key)?.sortBy
    return sort && by ? sortRows(rows, by, sort.direction) : rows
  }, [rows, columns, sort])
  const heads = columns.some((column) => column.rowHeading) ? null : columns[0]?.key

  if (rows.length === 0 && empty) return empty
  return (
    <div className={joined(styles.frame, className)}>
      <table className={styles.table}>
        <caption className="visually-hidden">{caption}</caption>
        <thead>
          <tr>
            {columns.map((column) => {
              const direction = sort?.key === column.key ? sort.direction : null
              return (
                <th
                  key={column.key}
                  scope="col"
                  className={joined(column.number && styles.number)}
                  style={column.width ? { width: column.width } : undefined}
                  aria-sort={direction === null ? undefined : direction}
                >
                  {column.sortBy ? (
                    <button
                      type="button"
                      className={styles.sort}
                      title={t('app.table.sort', {})}
                      onClick={() => setSort({ key: column.key, direction: direction === 'ascending' ? 'descending' : 'ascending' })}
                    >
                      <Heading column={column} />
                      <span className={styles.arrow} data-direction={direction ?? 'none'}>
                        <Icon name={direction === 'descending' ? 'down' : 'up'} size={12} />
                      </span>
                    </button>
                  ) : (
                    <Heading column={column} />
                  )}
                </th>
              )
            })}
          </tr>
        </thead>
        <tbody>
          {sorted.map((row) => {
            const key = rowKey(row)
            return (
              <tr
                key={key}
                className={joined(onSelect && styles.selectable, rowClass?.(row))}
                aria-current={selectedKey === key ? 'true' : undefined}
                onFocus={onFocusRow ? () => onFocusRow(row) : undefined}
                onClick={onSelect ? () => onSelect(row) : undefined}
              >
                {columns.map((column) => {
                  const content = column.cell(row)
                  return column.rowHeading || column.key === heads ? (
                    <th key={column.key} scope="row" className={joined(styles.rowHead, column.number && styles.number)}>
                      {content}
                    </th>
                  ) : (
                    <td key={column.key} className={joined(column.number && styles.number)}>
                      {content}
                    </td>
                  )
                })}
              </tr>
            )
          })}
        </tbody>
      </table>
    </div>
  )
}

function Heading<Row>({ column }: { column: Column<Row> }) {
  return (
    <span>
      {column.heading}
      {column.unit ? <span className={styles.unit}> {column.unit}</span> : null}
    </span>
  )
}
