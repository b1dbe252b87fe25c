import { memo } from 'react'
import type { Verdict } from '#core/model/criteria.ts'
import type { TerminalKind } from '#core/model/terminals.ts'
import { VERDICT_COLOUR } from '#renderer/ui/verdict-patterns.tsx'
import styles from './plan.module.css'

export type FaceNodeProps = {
  id: string
  /** outline and kind mark, as paths of the sheet */
  path: string
  mark: string
  kind: TerminalKind
  verdict: Verdict
  /** a velocity shade, in place of the verdict's */
  shade: string | null
  closed: boolean
  selected: boolean
  /** where the keyboard stands */
  current: boolean
  /** tag, verdict and value in words */
  name: string
}

/** Edge, mark and rings of one filter or grille; its fill is painted with the others of its verdict. Memoised: panning redraws none, selecting redraws two. */
export const FaceNode = memo(function FaceNode(props: FaceNodeProps) {
  const { id, path, mark, kind, verdict, closed, selected, current, name } = props
  return (
    <g
      data-id={id}
      id={`face-${id}`}
      role="option"
      aria-label={name}
      aria-selected={selected}
      className={styles.face}
      data-selected={selected ? '' : undefined}
      data-current={current ? '' : undefined}
      data-kind={kind}
    >
      {mark === '' ? null : <path d={mark} className={styles.kindMark} />}
      <path
        d={path}
        className={styles.faceEdge}
        style={{ stroke: VERDICT_COLOUR[verdict] }}
        strokeDasharray={verdict === 'not_tested' || closed ? '5 3' : undefined}
      />
      {selected || current ? <path d={path} className={styles.faceRing} /> : null}
    </g>
  )
})
