import type { KeyboardEvent } from 'react'
import type { ComparisonRow } from '#core/model/results.ts'
import { useFormatter, useSay, useSentence } from '../app/session.tsx'
import { joined } from '../ui/class-names.ts'
import { Icon, type IconName } from '../ui/icon.tsx'
import { VerdictMark } from '../ui/verdict-mark.tsx'
import { ChangeBar } from './change-bar.tsx'
import styles from './compare.module.css'

const BREAK_ICON: Readonly<Record<string, IconName>> = {
  'break.element': 'replaced',
  'break.elements': 'replaced',
  'break.instrument': 'gauge',
  'break.criteria': 'criteria',
  'break.zone_criteria': 'criteria',
  'break.grid': 'filter',
  'break.volume': 'room',
}

type ComparisonLineProps = {
  row: ComparisonRow
  index: number
  selected: boolean
  /** the one row that Tab stops at; arrows go on from there */
  reachable: boolean
  scalePercent: number
  onKeyDown: (event: KeyboardEvent, index: number) => void
  onSelect: () => void
}

/** One room or filter: then, now, change, the change as a bar, both verdicts, and what was not the same. */
export function ComparisonLine({ row, index, selected, reachable, scalePercent, onKeyDown, onSelect }: ComparisonLineProps) {
  const t = useSay()
  const formatter = useFormatter()
  const { figure, dimension } = row
  return (
    <tr aria-rowindex={index + 2} aria-selected={selected} className={styles.entry} data-kind={row.kind} onClick={onSelect}>
      <th scope="row">
        <button
          type="button"
          className={styles.place}
          tabIndex={reachable ? 0 : -1}
          onKeyDown={(event) => onKeyDown(event, index)}
          onClick={(event) => {
            event.stopPropagation()
            onSelect()
          }}
        >
          <Icon name={row.kind === 'room' ? 'room' : 'filter'} size={15} />
          <span>{row.label}</span>
          {row.kind === 'room' ? <span className={styles.faint}>{t('compare.quantity', { quantity: row.quantity })}</span> : null}
        </button>
      </th>
      <td className={styles.number}>{formatter.number(figure.earlier, dimension)}</td>
      <td className={joined(styles.number, styles.strong)}>{formatter.number(figure.later, dimension)}</td>
      <td className={styles.faint}>{formatter.unit(dimension)}</td>
      <td className={joined(styles.number, styles.roomier)}>{t('compare.change', { figure: { value: figure.change, dimension } })}</td>
      <td className={joined(styles.number, styles.strong)}>{t('compare.percent', { value: figure.changePercent })}</td>
      <td className={styles.roomy}>
        <ChangeBar percent={figure.changePercent} scalePercent={scalePercent} />
      </td>
      <td>
        <VerdictMark verdict={row.verdictThen} />
      </td>
      <td className={row.verdictNow === row.verdictThen ? undefined : styles.strong}>
        <VerdictMark verdict={row.verdictNow} />
      </td>
      <td className={styles.roomy}>
        <Breaks row={row} />
      </td>
    </tr>
  )
}

function Breaks({ row }: { row: ComparisonRow }) {
  const t = useSay()
  const sentence = useSentence()
  return (
    <span className={styles.breaks}>
      {row.breaks.map((reason) => (
        <span key={reason.code} title={sentence(reason)}>
          <Icon name={BREAK_ICON[reason.code] ?? 'info'} size={16} />
          <span className="visually-hidden">{sentence(reason)}</span>
        </span>
      ))}
      {row.differsFromSigned ? (
        <span title={t('compare.signed_differs', {})}>
          <Icon name="warn" size={16} />
          <span className="visually-hidden">{t('compare.signed_differs', {})}</span>
        </span>
      ) : null}
    </span>
  )
}
