import { newestFirst } from '#renderer/app/certification-shown.ts'
import { useSay, useSession } from '#renderer/app/session.tsx'
import { Segmented } from '#renderer/ui/segmented.tsx'
import { Select } from '#renderer/ui/select.tsx'
import type { ShownRun } from './shown-run.ts'

type MapControlsProps = { shown: ShownRun; byVelocity: boolean; onByVelocity: (byVelocity: boolean) => void }

/** Which certification and run the plan speaks of, and what its faces are shaded by. */
export function MapControls({ shown, byVelocity, onByVelocity }: MapControlsProps) {
  const t = useSay()
  const { certification, certifications, showCertification } = useSession()
  return (
    <>
      {certification ? (
        <Select
          label={t('map.certification', {})}
          hideLabel
          value={certification.id}
          choices={newestFirst(certifications).map((visit) => ({ value: visit.id, label: visit.body.name }))}
          onChange={showCertification}
        />
      ) : null}
      {shown.runs.length > 1 && shown.run ? (
        <Select
          label={t('map.run', {})}
          hideLabel
          value={shown.run.runId}
          choices={shown.runs.map((run) => ({
            value: run.runId,
            label: t('map.run.choice', { of: { phase: run.phase, current: run.current } }),
          }))}
          onChange={shown.show}
        />
      ) : null}
      <Segmented
        label={t('map.shade', {})}
        value={byVelocity ? 'velocity' : 'verdict'}
        choices={[
          { value: 'verdict', label: t('map.shade.verdict', {}) },
          { value: 'velocity', label: t('map.shade.velocity', {}) },
        ]}
        onChange={(choice) => onByVelocity(choice === 'velocity')}
      />
    </>
  )
}
