import { judgeFigure } from '#core/criteria/judge.ts'
import type { PreparedCriterion } from '#core/criteria/prepare.ts'
import { tally, worstOfCounts } from '#core/criteria/roll-up.ts'
import type { UncertaintySettings } from '#core/model/criteria.ts'
import type { VerdictCounts, ZoneResult } from '#core/model/results.ts'
import type { Basis, Entered, Uuid } from '#core/model/values.ts'
import { type AreaSetting, areaEvidence } from './area-evidence.ts'
import type { AreaFigures } from './area-figures.ts'
import type { DesignValue } from './design.ts'
import type { FilterFigures } from './filter-figures.ts'
import { areaMeasuredAt, heldAt } from './measured-at.ts'
import { byBasis, figuresOn, lacking, lackOn, mainOf, type OnBases } from './on-bases.ts'
import { shareOfFacesWithin } from './point-limits.ts'
import { type AreaOnBasis, areaUncertainty } from './uncertainty/figure-uncertainty.ts'
import type { RunErrors } from './uncertainty/run-errors.ts'

/** A zone of the run, or the room as its own zone. */
export type ZoneInRun = {
  readonly id: Uuid
  readonly name: string
  readonly designVelocity: Entered | null
  readonly criteria: readonly PreparedCriterion[]
  readonly area: OnBases<AreaFigures>
  /** the filters that make up the area; a plane has none, and tells its points itself */
  readonly faces: readonly OnBases<FilterFigures>[]
  readonly partOnly: boolean
  readonly errors: RunErrors
  readonly settings: UncertaintySettings
}

/**
 * Sum of the filters' design flows, m3/s; null while one has none. A closed one is a recorded zero against its design, as its flow is a zero in
 * the sum: shutting a filter brings no room nearer to its design. Source: the house's rule A1.
 */
export function designFlowOf(area: AreaFigures): DesignValue | null {
  let sum = 0
  let unit: DesignValue['unit'] = 'm3/h'
  for (const filter of area.filters) {
    if (!filter.design.flow) return null
    sum += filter.design.flow.si
    unit = filter.design.flow.unit
  }
  return sum > 0 ? { si: sum, unit } : null
}

/**
 * The zone's own design velocity, else the mean of its filters' design velocities weighted by effective area, closed ones with theirs as in
 * the mean velocity; null while one of them has none.
 */
function designVelocityOf(zone: ZoneInRun): DesignValue | null {
  if (zone.designVelocity && zone.designVelocity.si > 0) return { si: zone.designVelocity.si, unit: zone.designVelocity.unit }
  let sum = 0
  let areaM2 = 0
  let unit: DesignValue['unit'] = 'm/s'
  for (const filter of zone.area.as_indicated.filters) {
    if (!filter.design.velocity) return null
    sum += filter.design.velocity.si * filter.areaM2
    areaM2 += filter.areaM2
    unit = filter.design.velocity.unit
  }
  return areaM2 > 0 ? { si: sum / areaM2, unit } : null
}

/** Share of the points of the zone's open faces within what is set for them. A hood has one value and no points. */
function pointsWithinPercent({ faces, criteria, area }: ZoneInRun): number | null {
  const gridded = faces.filter(({ as_indicated: { of } }) => of.way === 'face_grid')
  return shareOfFacesWithin(criteria, gridded, area)
}

function onBasis({ settings }: ZoneInRun, area: AreaFigures, basis: Basis): AreaOnBasis {
  return { area, basis, settings, volume: null, airChanges: null }
}

/**
 * Result of one zone: its figures, the criteria about the zone as a whole, and the roll-up over those and over everything its
 * filters read, which `ofFilters` counts.
 */
export function zoneResult(zone: ZoneInRun, ofFilters: VerdictCounts, givesFlow: boolean): ZoneResult {
  const area = mainOf(zone.area)
  const designVelocity = designVelocityOf(zone)
  const setting: AreaSetting = {
    subjectId: zone.id,
    designVelocity,
    designFlow: designFlowOf(area),
    designAirChanges: null,
    airChanges: null,
    partOnly: zone.partOnly,
    givesFlow,
  }
  const criteria = zone.criteria
    .filter((criterion) => criterion.scope === 'zone' && criterion.form.kind !== 'each_within_percent_of_mean')
    .map((criterion) => {
      const { basis } = criterion.stance
      const own = figuresOn(zone.area, basis) ?? zone.area.as_indicated
      const lack = lackOn(zone.area, basis)
      const uncertainty = lack === null ? areaUncertainty(zone.errors, onBasis(zone, own, basis), criterion.quantity) : null
      const held = heldAt(lacking(criterion, lack), areaMeasuredAt(own.filters))
      return judgeFigure(held, areaEvidence(own, setting, criterion.quantity, uncertainty))
    })
  const counts = { ...ofFilters }
  tally(counts, criteria)
  return {
    zoneId: zone.id,
    name: zone.name,
    meanVelocityMps: area.meanMps,
    relativeStandardDeviationPercent: area.relativeStandardDeviationPercent,
    largestDeviationPercent: area.largestDeviationPercent,
    closedFaces: area.closedFaces,
    pointsPlanned: area.pointsPlanned,
    pointsMeasured: area.pointsMeasured,
    designVelocityMps: designVelocity?.si ?? null,
    percentOfDesign: area.meanMps === null || !designVelocity ? null : (100 * area.meanMps) / designVelocity.si,
    basis: zone.area.main,
    byBasis: byBasis(zone.area, ({ meanMps, flowM3ps }) => ({ meanVelocityMps: meanMps, flowM3ps })),
    pointsWithinPercent: pointsWithinPercent(zone),
    planeCells: [],
    uncertainty: areaUncertainty(zone.errors, onBasis(zone, area, zone.area.main), 'face_velocity'),
    criteria,
    verdict: worstOfCounts(counts),
    counts,
  }
}
