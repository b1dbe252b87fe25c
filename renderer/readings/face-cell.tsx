import { memo } from 'react'
import type { ReadingFlag } from '#core/model/readings.ts'
import { useSay } from '../app/session.tsx'
import { Icon } from '../ui/icon.tsx'
import styles from './face.module.css'
import type { Direction } from './face-view.ts'
import type { SavedState } from './reading-book.ts'
import { useFlagWord, useSavedWord } from './words-of-states.ts'

export type FaceCellProps = {
  id: string
  point: number
  order: number
  /** the edge where the path goes on to the next point */
  towards: Direction | null
  row: number
  column: number
  /** numbers of its samples, joined by line ends: a plain text compares fast */
  text: string
  draft: string
  saved: SavedState | 'empty'
  flags: string
  outside: 'below' | 'above' | null
  /** the limit that it lies outside of, in the unit of the run */
  limit: string
  note: boolean
  current: boolean
  samples: number
  preview: boolean
  /** a figure that follows from the number: the velocity beside a pressure */
  beside?: string
  onGo: (point: number) => void
}

/** One point of the face: its number large, its place on the path and its marks small. */
export const FaceCell = memo(function FaceCell(props: FaceCellProps) {
  const { id, point, order, towards, row, column, text, draft, saved, outside, limit, note, current, samples, preview, beside, onGo } =
    props
  const t = useSay()
  const flagWord = useFlagWord()
  const savedWord = useSavedWord()
  const numbers = text === '' ? [] : text.split('\n')
  const flags = props.flags === '' ? [] : (props.flags.split(' ') as ReadingFlag[])
  const marks = [
    ...(outside === 'below' ? [t('readings.below_limit', { limit })] : outside === 'above' ? [t('readings.above_limit', { limit })] : []),
    ...flags.map(flagWord),
  ]
  // What the eye takes from place, colour and signs, in words; the figures themselves are read as they stand.
  const told = [
    numbers.length === 0 ? t('readings.cell.empty', {}) : savedWord(saved),
    ...(note ? [t('readings.has_note', {})] : []),
    ...(current ? [t('readings.cell.current', {})] : []),
  ].join(', ')
  const big = draft !== '' ? draft : (numbers.at(-1) ?? '')
  return (
    <button
      type="button"
      id={id}
      tabIndex={current ? 0 : -1}
      aria-current={current ? 'true' : undefined}
      className={styles.cell}
      style={{ gridRow: row, gridColumn: column }}
      data-point={point}
      data-saved={saved}
      data-outside={outside ?? undefined}
      data-current={current ? '' : undefined}
      data-draft={draft !== '' ? '' : undefined}
      data-preview={preview ? '' : undefined}
      onClick={() => onGo(point)}
    >
      <span className={styles.order}>
        <span className="visually-hidden">{t('readings.cell.point', {})} </span>
        {order}
      </span>
      {towards ? <span className={styles.towards} data-edge={towards} aria-hidden="true" /> : null}
      <span className={styles.corner}>
        {note ? <Icon name="note" size={16} /> : null}
        <SavedSign saved={saved} />
      </span>
      <span className="visually-hidden"> </span>
      <span className={styles.number} data-length={big.length > 4 ? 'long' : 'short'}>
        {big}
        {current && draft !== '' ? <span className={styles.caret} /> : null}
      </span>
      <span className="visually-hidden"> {told}</span>
      {samples > 1 ? (
        <span className={styles.samples}>
          {numbers.length > 1 ? numbers.join(' · ') : t('readings.samples_taken', { taken: numbers.length, samples })}
        </span>
      ) : null}
      {beside ? <span className={styles.beside}>{beside}</span> : null}
      {marks.length > 0 ? <span className={styles.marks}>{marks.join(' · ')}</span> : null}
    </button>
  )
})

function SavedSign({ saved }: { saved: SavedState | 'empty' }) {
  if (saved === 'empty') return null
  if (saved === 'saved') return <Icon name="check" size={16} />
  if (saved === 'refused') return <Icon name="warn" size={18} />
  return <span className={saved === 'saving' ? styles.saving : styles.waiting} />
}
