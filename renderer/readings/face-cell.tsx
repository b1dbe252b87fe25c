import { type CSSProperties, memo } from 'react'
import type { ReadingFlag } from '#core/model/readings.ts'
import { useSay } from '../app/session.tsx'
import { Icon } from '../ui/icon.tsx'
import styles from './face.module.css'
import type { Direction } from './face-view.ts'
import { roomFor, roomForDraft } from './number-form.ts'
import type { SavedState } from './reading-book.ts'
import { useFlagWord, useSavedWord } from './words-of-states.ts'

export type FaceCellProps = {
  id: string
  point: number
  /** place on the path; null where it is the only one */
  order: number | null
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
  carried: boolean
  current: boolean
  samples: number
  preview: boolean
  /** a figure that follows from the number: the velocity beside a pressure */
  beside?: string
  /** digits that the numbers of the stage have, so that decimal signs stand in line */
  wholeDigits: number
  fractionDigits: number
  onGo: (point: number) => void
}

/** One point of the face: its number large, its place on the path and its marks small. */
export const FaceCell = memo(function FaceCell(props: FaceCellProps) {
  const { id, point, order, towards, row, column, text, draft, saved, outside, limit, note, current, samples, preview, beside, onGo } =
    props
  const { wholeDigits, fractionDigits, carried } = props
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
    ...(carried ? [flagWord('carried')] : []),
    ...(note ? [t('readings.has_note', {})] : []),
    ...(current ? [t('readings.cell.current', {})] : []),
  ].join(', ')
  const big = draft !== '' ? draft : (numbers.at(-1) ?? '')
  const room = (draft !== '' ? roomForDraft : roomFor)(big, { whole: wholeDigits, fraction: fractionDigits })
  const takenText = (taken: readonly string[]) =>
    taken.length === samples ? taken.join(' · ') : [...taken, t('readings.samples_taken', { taken: taken.length, samples })].join(' · ')
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
      data-carried={carried ? '' : undefined}
      data-preview={preview ? '' : undefined}
      onClick={() => onGo(point)}
    >
      {order === null ? null : (
        <span className={styles.order}>
          <span className="visually-hidden">{t('readings.cell.point', {})} </span>
          {order}
        </span>
      )}
      {towards ? <span className={styles.towards} data-edge={towards} aria-hidden="true" /> : null}
      <span className={styles.corner}>
        {flags.includes('questioned') ? (
          <span className={styles.questioned}>
            <Icon name="help" size={18} />
          </span>
        ) : null}
        {note ? <Icon name="note" size={16} /> : null}
        <SavedSign saved={saved} />
      </span>
      <span className="visually-hidden"> </span>
      <span
        className={styles.number}
        style={{ '--width': room.width, paddingLeft: `${room.before}ch`, paddingRight: `${room.after}ch` } as CSSProperties}
      >
        {big.replace('-', '−')}
        {current && draft !== '' ? <span className={styles.caret} /> : null}
      </span>
      <span className="visually-hidden"> {told}</span>
      <span className={styles.foot}>
        {samples > 1 ? <span className={styles.taken}>{takenText(numbers)}</span> : null}
        {beside ? <span className={styles.taken}>{beside}</span> : null}
        {marks.length > 0 ? <span className={styles.marks}>{marks.join(' · ')}</span> : null}
      </span>
    </button>
  )
})

function SavedSign({ saved }: { saved: SavedState | 'empty' }) {
  if (saved === 'empty') return null
  if (saved === 'saved') return <Icon name="check" size={16} />
  if (saved === 'refused') return <Icon name="warn" size={18} />
  return <span className={saved === 'saving' ? styles.saving : styles.waiting} />
}
