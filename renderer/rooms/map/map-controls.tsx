import { useSay } from '#renderer/app/session.tsx'
import { Segmented } from '#renderer/ui/segmented.tsx'
import { Select } from '#renderer/ui/select.tsx'
import type { RoomPlan } from '../room-plan.ts'
import type { ShownRun } from './shown-run.ts'

type MapControlsProps = { shown: ShownRun; zones: RoomPlan['zones']; byVelocity: boolean; onByVelocity: (byVelocity: boolean) => void }

/** Which run the plan speaks of (the certification is chosen in the strip), and what its faces are shaded by. */
export function MapControls({ shown, zones, byVelocity, onByVelocity }: MapControlsProps) {
  const t = useSay()
  const zoneNames = new Map(zones.map(({ id, body }) => [id, body.name]))
  return (
    <>
      {shown.runs.length > 1 && shown.run ? (
        <Select
          label={t('map.run', {})}
          hideLabel
          value={shown.run.runId}
          choices={shown.runs.map((run) => ({
            value: run.runId,
            label: t('map.run.choice', { of: { phase: run.phase, current: run.current, zone: zoneNames.get(run.zoneId ?? '') ?? '' } }),
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
