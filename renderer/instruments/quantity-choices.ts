import type { Quantity } from '#core/model/values.ts'
import { useSay } from '../app/session.tsx'
import type { Choice } from '../ui/select.tsx'

/** The quantities an instrument may measure, for a Select. */
export function useQuantityChoices(): Choice<Quantity>[] {
  const t = useSay()
  return [
    { value: 'velocity', label: t('instruments.quantity.velocity', {}) },
    { value: 'flow', label: t('instruments.quantity.flow', {}) },
    { value: 'pressure_difference', label: t('instruments.quantity.pressure_difference', {}) },
    { value: 'velocity_pressure', label: t('instruments.quantity.velocity_pressure', {}) },
    { value: 'temperature', label: t('instruments.quantity.temperature', {}) },
    { value: 'relative_humidity', label: t('instruments.quantity.relative_humidity', {}) },
    { value: 'barometric_pressure', label: t('instruments.quantity.barometric_pressure', {}) },
  ]
}
