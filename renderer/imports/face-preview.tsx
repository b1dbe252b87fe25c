import { useMemo, useState } from 'react'
import type { ImportOutcome } from '#core/api/imports.ts'
import { useSay } from '../app/session.tsx'
import { FaceGrid } from '../readings/face-grid.tsx'
import { faceAspect } from '../readings/face-view.ts'
import type { FilterPlan, RunPlan } from '../readings/run-plan.ts'
import { Panel } from '../ui/panel.tsx'
import { Select } from '../ui/select.tsx'
import styles from './import.module.css'
import { laidOntoFaces } from './laid-onto-faces.ts'

/** The values of the file on the face of each terminal, as the technician would see them, before they are kept. */
export function FacePreview({ outcome, plan }: { outcome: ImportOutcome; plan: RunPlan }) {
  const t = useSay()
  const laid = useMemo(() => laidOntoFaces(outcome.preview, plan.terminalOfPoint), [outcome.preview, plan])
  const filters = plan.filters.filter(({ terminalId }) => laid.has(terminalId))
  const [picked, setPicked] = useState<string | null>(null)
  const filter = filters.find(({ terminalId }) => terminalId === picked) ?? filters[0]
  if (!filter) return null
  return (
    <Panel title={t('import.face_title', { tag: filter.terminal.body.tag })}>
      <div className={styles.face}>
        {filters.length > 1 ? (
          <Select
            label={t('import.face_of', {})}
            value={filter.terminalId}
            choices={filters.map(({ terminalId, terminal }) => ({ value: terminalId, label: terminal.body.tag }))}
            onChange={setPicked}
          />
        ) : null}
        <div className={styles.faceStage}>
          <Face filter={filter} plan={plan} values={laid.get(filter.terminalId) ?? new Map()} />
        </div>
      </div>
    </Panel>
  )
}

const goNowhere = () => undefined

function Face({
  filter,
  plan,
  values,
}: {
  filter: FilterPlan
  plan: RunPlan
  values: ReadonlyMap<number, { text: string; flags: string }>
}) {
  const { terminal, points } = filter
  const looks = points.map((point, index) => ({
    point: point.number,
    order: index + 1,
    texts: [],
    saved: 'empty' as const,
    flags: [],
    outside: null,
    limit: '',
    note: false,
    carried: false,
  }))
  return (
    <FaceGrid
      tag={terminal.body.tag}
      plane={filter.way === 'plane'}
      points={points}
      looks={looks}
      turns={0}
      aspect={faceAspect(terminal.body, plan.run.body.facingDegrees, 0)}
      currentPoint={null}
      draft=""
      samples={plan.run.body.samplesPerPoint}
      preview={values}
      onGo={goNowhere}
    />
  )
}
