import { useState } from 'react'
import { useSay } from '../app/session.tsx'
import { EnteredField } from '../ui/entered-field.tsx'
import { Segmented } from '../ui/segmented.tsx'
import { StartChoice } from './start-choice.tsx'
import type { RunChoices } from './start-defaults.ts'

type Plane = RunChoices['plane']

/** Where the velocities are measured: at the filter face, or at working height. */
export function PlaneFields({ plane, onChange }: { plane: Plane; onChange: (plane: Plane | null, valid: boolean) => void }) {
  const t = useSay()
  const lengthM = plane.kind === 'filter_face' ? plane.distanceM : plane.heightM
  const [problem, setProblem] = useState(false)
  const withLength = (kind: Plane['kind'], si: number): Plane =>
    kind === 'filter_face' ? { kind, distanceM: si } : { kind: 'working_height', heightM: si }
  return (
    <>
      <StartChoice label={t('certifications.start.plane', {})}>
        <Segmented
          large
          label={t('certifications.start.plane', {})}
          value={plane.kind}
          choices={(['filter_face', 'working_height'] as const).map((kind) => ({
            value: kind,
            label: t(`certifications.start.plane.${kind}`, {}),
          }))}
          onChange={(kind) => {
            setProblem(false)
            onChange(withLength(kind, kind === 'filter_face' ? 0.15 : 1), true)
          }}
        />
      </StartChoice>
      <EnteredField
        key={plane.kind}
        large
        label={plane.kind === 'filter_face' ? t('certifications.start.distance', {}) : t('certifications.start.height', {})}
        unit="m"
        value={{ si: lengthM, typed: String(lengthM), unit: 'm' }}
        onChange={(value, valid) => {
          const good = valid && value !== null && value.si > 0
          setProblem(!good)
          onChange(good ? withLength(plane.kind, value.si) : null, good)
        }}
        error={problem ? t('certifications.start.positive', {}) : null}
        hint={plane.kind === 'filter_face' ? t('certifications.start.distance_range', {}) : undefined}
      />
    </>
  )
}
