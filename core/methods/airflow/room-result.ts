import { judgeFigure } from '#core/criteria/judge.ts'
import type { PreparedCriterion } from '#core/criteria/prepare.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { CriterionResult, RoomFigures } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { airChangesPerHour, flowForAirChangesM3ps } from '#core/rooms/air-changes.ts'
import { roomVolumeM3 } from '#core/rooms/geometry.ts'
import { type AreaSetting, areaEvidence } from './area-evidence.ts'
import type { AreaFigures } from './area-figures.ts'
import type { DesignValue } from './design.ts'
import { designFlowOf } from './zone-results.ts'

export type RoomInRun = {
  readonly id: Uuid
  readonly body: EntityBody<'room'>
  readonly area: AreaFigures
  readonly criteria: readonly PreparedCriterion[]
  /** the run covers a zone only, so that nothing can be said about the room as a whole */
  readonly partOnly: boolean
  readonly givesFlow: boolean
}

/** Supply from air handlers alone; some rules ask for a part of the air changes from outside the room. */
function outsideFlowM3ps(area: AreaFigures): number {
  let sum = 0
  for (const filter of area.filters) if (filter.of.terminal.body.airSource === 'air_handler') sum += filter.flowM3ps ?? 0
  return sum
}

/** Engineering's design supply: from the room's design air changes, else the sum of its filters' design flows. */
function roomDesignFlow(room: RoomInRun, volumeM3: number): DesignValue | null {
  const perHour = room.body.designAirChangesPerHour
  return perHour !== null && volumeM3 > 0 ? { si: flowForAirChangesM3ps(perHour, volumeM3), unit: 'm3/h' } : designFlowOf(room.area)
}

/**
 * Room totals, SI and 1/h, and the criteria about the room as a whole. Total air changes count all filtered supply, outside air
 * changes the terminals fed by an air handler. Supply and air changes are none while a terminal in service has no flow, and
 * for a run that covers a zone only; what has been measured so far is kept beside, never instead. Source: the house's rule A1.
 */
export function roomResult(room: RoomInRun): { figures: RoomFigures; criteria: CriterionResult[] } {
  const { area, partOnly, givesFlow } = room
  const volumeM3 = roomVolumeM3(room.body)
  const supplyFlowM3ps = partOnly ? null : area.flowM3ps
  const total = supplyFlowM3ps === null ? null : airChangesPerHour(supplyFlowM3ps, volumeM3)
  const outside = supplyFlowM3ps === null ? null : airChangesPerHour(outsideFlowM3ps(area), volumeM3)
  const designFlow = roomDesignFlow(room, volumeM3)
  const perHour = room.body.designAirChangesPerHour ?? (designFlow ? airChangesPerHour(designFlow.si, volumeM3) : null)
  const { designVelocity } = room.body
  const setting: AreaSetting = {
    subjectId: room.id,
    designVelocity: designVelocity && designVelocity.si > 0 ? { si: designVelocity.si, unit: designVelocity.unit } : null,
    designFlow,
    designAirChanges: perHour === null ? null : { si: perHour, unit: '1/h' },
    airChanges: {
      total,
      outside,
      least: area.leastFlowM3ps === null ? null : airChangesPerHour(area.leastFlowM3ps, volumeM3),
    },
    partOnly,
    givesFlow,
  }
  return {
    figures: {
      volumeM3,
      areaWeightedMeanVelocityMps: partOnly ? null : area.meanMps,
      supplyFlowM3ps,
      supplySoFar: { flowM3ps: area.flowSoFarM3ps, terminals: area.withFlow, of: area.inService },
      airChangesPerHour: total,
      outsideAirChangesPerHour: outside,
      filterToFilterRsdPercent: !partOnly && area.filterToFilter.kind === 'known' ? area.filterToFilter.rsdPercent : null,
      designFlowM3ps: designFlow?.si ?? null,
      percentOfDesign: supplyFlowM3ps === null || !designFlow ? null : (100 * supplyFlowM3ps) / designFlow.si,
      basis: 'as_indicated',
      byBasis: null,
      balance: null,
      uncertainty: null,
    },
    criteria: room.criteria
      .filter((criterion) => criterion.scope === 'room' && criterion.form.kind !== 'each_within_percent_of_mean')
      .map((criterion) => judgeFigure(criterion, areaEvidence(area, setting, criterion.quantity))),
  }
}
