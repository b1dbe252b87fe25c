import { useMemo } from 'react'
import type { FilterResult } from '#core/model/results.ts'
import { useFormatter } from '../app/session.tsx'
import type { CellLook } from './cell-look.ts'
import type { OnStage } from './cell-of-point.ts'
import { FaceGrid } from './face-grid.tsx'
import type { QuarterTurns } from './face-view.ts'
import type { PlacedReading } from './reading-book.ts'
import type { FilterView } from './run-desk.ts'
import type { Place } from './typing.ts'
import type { HandInstrument } from './use-hand-instrument.ts'
import { DuctStage } from './ways/duct-stage.tsx'
import { WholeStage } from './ways/whole-stage.tsx'

export type BenchStageProps = {
  view: FilterView
  looks: readonly CellLook[]
  turns: QuarterTurns
  aspect: number
  at: Place | null
  draft: string
  samples: number
  preview: ReadonlyMap<number, { text: string; flags: string }> | null
  textOf: (reading: PlacedReading) => string
  /** with the number that is being typed, where that is worked out */
  result: FilterResult | null
  settled: boolean
  instrument: HandInstrument | null
  onGo: (to: Place) => void
  onPoint: (point: number) => void
}

/** What hangs before the technician, by the way it is measured: a face or plane of points, the section of a duct, or one large entry. */
export function BenchStage(props: BenchStageProps) {
  const { view, looks, turns, aspect, at, draft, samples, preview, result, onPoint } = props
  const f = useFormatter()
  const { filter } = view
  const { duct } = filter.terminal.body
  const fromPressure = filter.quantity === 'velocity_pressure'
  const velocities = useMemo(
    () =>
      fromPressure
        ? new Map(
            (result?.pointMeansMps ?? []).flatMap(({ point, meanMps }) =>
              meanMps === null ? [] : [[point, f.number(meanMps, 'velocity')] as const],
            ),
          )
        : null,
    [fromPressure, result, f],
  )
  const on: OnStage = { currentPoint: at?.point ?? null, draft, samples, preview }
  if (filter.way === 'duct_traverse' && duct) {
    return <DuctStage filter={filter} duct={duct} looks={looks} {...on} velocities={velocities} onGo={onPoint} />
  }
  const [only] = looks
  if ((filter.way === 'hood' || filter.way === 'flow_element') && only) {
    return <WholeStage {...props} look={only} />
  }
  return (
    <FaceGrid
      tag={filter.terminal.body.tag}
      plane={filter.way === 'plane'}
      points={filter.points}
      looks={looks}
      turns={turns}
      aspect={aspect}
      {...on}
      onGo={onPoint}
    />
  )
}
