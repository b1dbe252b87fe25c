import { useSay } from '../app/session.tsx'
import { joined } from '../ui/class-names.ts'
import { Icon } from '../ui/icon.tsx'
import type { SortState } from '../ui/sort-rows.ts'
import styles from './compare.module.css'
import type { SortKey } from './row-filter.ts'

export type Sort = { readonly key: SortKey; readonly direction: SortState['direction'] }
type HeadProps = { sort: Sort; onSort: (sort: Sort) => void }

export function ComparisonHead(props: HeadProps) {
  const t = useSay()
  return (
    <thead>
      <tr>
        <Heading {...props} by="place" text={t('compare.column.place', {})} className={styles.columnPlace} />
        <Heading {...props} text={t('compare.column.then', {})} number className={styles.columnNumber} />
        <Heading {...props} by="now" text={t('compare.column.now', {})} number className={styles.columnNumber} />
        <Heading {...props} text={t('compare.column.unit', {})} hidden className={styles.columnUnit} />
        <Heading {...props} text={t('compare.column.change', {})} number className={joined(styles.columnNumber, styles.roomier)} />
        <Heading {...props} by="percent" text={t('compare.column.percent', {})} number className={styles.columnPercent} />
        <Heading {...props} text={t('compare.column.bar', {})} hidden className={joined(styles.columnBar, styles.roomy)} />
        <Heading {...props} text={t('compare.column.verdict_then', {})} className={styles.columnVerdict} />
        <Heading {...props} by="worst" text={t('compare.column.verdict_now', {})} className={styles.columnVerdict} />
        <Heading {...props} text={t('compare.column.breaks', {})} className={joined(styles.columnBreaks, styles.roomy)} />
      </tr>
    </thead>
  )
}

type HeadingProps = HeadProps & {
  text: string
  by?: SortKey
  number?: boolean
  hidden?: boolean
  className?: string | undefined
}

function Heading({ sort, onSort, text, by, number, hidden, className }: HeadingProps) {
  const t = useSay()
  const isSorted = by !== undefined && sort.key === by
  const turn = () => {
    if (by) onSort({ key: by, direction: isSorted && sort.direction === 'ascending' ? 'descending' : 'ascending' })
  }
  return (
    <th scope="col" className={joined(number && styles.number, className)} aria-sort={isSorted ? sort.direction : undefined}>
      {by ? (
        <button type="button" className={styles.sort} title={t('app.table.sort', {})} onClick={turn}>
          {text}
          <span className={styles.arrow} data-shown={isSorted ? '' : undefined}>
            <Icon name={isSorted && sort.direction === 'descending' ? 'down' : 'up'} size={12} />
          </span>
        </button>
      ) : (
        <span className={hidden ? 'visually-hidden' : undefined}>{text}</span>
      )}
    </th>
  )
}
