import { REFERENCE_DENSITY_KGPM3, standardDensityKgpm3 } from '#core/methods/airflow/air-of-run.ts'
import type { FilterResult } from '#core/model/results.ts'
import { useSay } from '../../app/session.tsx'
import type { FilterPlan } from '../run-plan.ts'
import sideStyles from '../side-panel.module.css'
import type { Place } from '../typing.ts'
import type { HandInstrument } from '../use-hand-instrument.ts'
import type { LiveFilter } from '../use-live-filter.ts'

type FollowsProps = { filter: FilterPlan; result: FilterResult | null; place: Place | null }

/** The velocity that the velocity pressure at hand stands for. What a whole terminal says stands in its stage. */
export function Follows({ filter, result, place }: FollowsProps) {
  const t = useSay()
  if (filter.quantity !== 'velocity_pressure' || !result || !place || !filter.points.some(({ number }) => number === place.point))
    return null
  const velocityMps = result.pointMeansMps.find(({ point }) => point === place.point)?.meanMps ?? null
  return velocityMps === null ? null : t('ways.duct.velocity_now', { velocityMps, of: { basis: result.basis } })
}

type NoDensityProps = { filter: FilterPlan; live: LiveFilter; instrument: HandInstrument | null }

/** A pressure says nothing without a density: tells which one is taken while the air of the run is not recorded. */
export function NoDensity({ filter, live, instrument }: NoDensityProps) {
  const t = useSay()
  const { quantity, terminal } = filter
  const pressure = quantity === 'velocity_pressure' || quantity === 'pressure_difference'
  if (!pressure || live.air?.actualKgpm3 != null) return null
  const element = terminal.body.flowElement
  const stated = filter.way === 'flow_element' && element?.kind === 'stated' ? element.statedDensityKgpm3 : null
  const densityKgpm3 = stated ?? standardDensityKgpm3(instrument?.body ?? null) ?? REFERENCE_DENSITY_KGPM3
  return <p className={sideStyles.remark}>{t('ways.no_density', { densityKgpm3 })}</p>
}
