import { useSay } from '../../app/session.tsx'
import { Button } from '../../ui/button.tsx'
import type { RunPlan } from '../run-plan.ts'
import { airOfPlace } from './air-of-place.ts'

type AirButtonProps = { plan: RunPlan; altitudeM: number | null; pressed: boolean; onPress: () => void }

/** The air of the run in a line; opens its panel without taking the keys from the face. */
export function AirButton({ plan, altitudeM, pressed, onPress }: AirButtonProps) {
  const t = useSay()
  const { conditions } = plan.run.body
  const { densityKgpm3, pressurePa } = airOfPlace(conditions, altitudeM)
  const said =
    conditions.temperature && densityKgpm3 !== null
      ? t('readings.air.line', { temperatureC: conditions.temperature.si, pressurePa: pressurePa ?? 0, densityKgpm3 })
      : t('readings.air.line_none', {})
  if (plan.run.body.state !== 'open') return <p>{said}</p>
  return (
    <Button large pressed={pressed} onMouseDown={(event: React.MouseEvent) => event.preventDefault()} onClick={onPress}>
      {said}
    </Button>
  )
}
