import { useMemo } from 'react'
import type { CellLook } from './cell-look.ts'
import type { FaceCellProps } from './face-cell.tsx'
import { type NumberForm, sharedForm } from './number-form.ts'

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

/** The form that all numbers of a stage find room in. */
export function useStageForm(looks: readonly CellLook[], preview: OnStage['preview']): NumberForm {
  return useMemo(() => {
    const laid = [...(preview?.values() ?? [])].map(({ text }) => text)
    return sharedForm([...looks.flatMap(({ texts }) => texts), ...laid])
  }, [looks, preview])
}

type Shown = Omit<FaceCellProps, 'towards' | 'row' | 'column' | 'outside' | 'limit' | 'beside' | 'onGo'>

/** What the cell of a point shows wherever it stands: what is stored there, what is being typed, or what would be laid onto it. */
export function cellOfPoint(look: CellLook, { currentPoint, draft, samples, preview }: OnStage, form: NumberForm): Shown {
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
    carried: look.carried,
    current,
    samples,
    preview: laid !== undefined,
    wholeDigits: form.whole,
    fractionDigits: form.fraction,
  }
}
