import { useSay } from '#renderer/app/session.tsx'
import { Segmented } from '#renderer/ui/segmented.tsx'
import { Select } from '#renderer/ui/select.tsx'
import type { ShownRun } from './shown-run.ts'

type MapControlsProps = { shown: ShownRun; byVelocity: boolean; onByVelocity: (byVelocity: boolean) => void }

/** Which run the plan speaks of (the certification is chosen in the strip), and what its faces are shaded by. */
export function MapControls({ shown, byVelocity, onByVelocity }: MapControlsProps) {
  const t = useSay()
  return (
    <>
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
