import type { CellLook } from './cell-look.ts'
import type { FaceCellProps } from './face-cell.tsx'

/** Where the focus finds the cell of a point. */
export const cellId = (point: number) => `point-${point}`

/** What a stage knows of typing and pasting, beside what is stored at its points. */
export type OnStage = {
  readonly currentPoint: number | null
  readonly draft: string
  readonly samples: number
  /** numbers that would be laid onto points, before they are saved */
  readonly preview: ReadonlyMap<number, { text: string; flags: string }> | null
}

type Shown = Pick<
  FaceCellProps,
  'id' | 'point' | 'order' | 'text' | 'draft' | 'saved' | 'flags' | 'note' | 'current' | 'samples' | 'preview'
>

/** What the cell of a point shows wherever it stands: what is stored there, what is being typed, or what would be laid onto it. */
export function cellOfPoint(look: CellLook, { currentPoint, draft, samples, preview }: OnStage): Shown {
  const laid = preview?.get(look.point)
  const current = look.point === currentPoint
  return {
    id: cellId(look.point),
    point: look.point,
    order: look.order,
    text: laid ? laid.text : look.texts.join('\n'),
    draft: current ? draft : '',
    saved: laid ? 'waiting' : look.saved,
    flags: laid ? laid.flags : look.flags.join(' '),
    note: look.note,
    current,
    samples,
    preview: laid !== undefined,
  }
}
