import { judgeFigure } from '#core/criteria/judge.ts'
import type { PreparedCriterion } from '#core/criteria/prepare.ts'
import type { CriterionQuantity, UncertaintySettings } from '#core/model/criteria.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { ByBasis, CriterionResult, RoomFigures } from '#core/model/results.ts'
import type { Basis, Uuid } from '#core/model/values.ts'
import { airChangesPerHour, flowForAirChangesM3ps } from '#core/rooms/air-changes.ts'
import { roomVolumeM3 } from '#core/rooms/geometry.ts'
import { type AreaSetting, areaEvidence } from './area-evidence.ts'
import type { AreaFigures } from './area-figures.ts'
import { judgeOffset } from './balance-evidence.ts'
import type { DesignValue } from './design.ts'
import { areaMeasuredAt, heldAt } from './measured-at.ts'
import { byBasis, figuresOn, lacking, lackOn, type OnBases } from './on-bases.ts'
import { type AirBalance, balanceFigures } from './room-balance.ts'
import { type AreaOnBasis, areaUncertainty, roomUncertainties } from './uncertainty/figure-uncertainty.ts'
import { offsetParts, offsetUncertainty } from './uncertainty/offset-uncertainty.ts'
import type { RunErrors } from './uncertainty/run-errors.ts'
import { designFlowOf } from './zone-results.ts'

export type RoomInRun = {
  readonly id: Uuid
  readonly body: EntityBody<'room'>
  /** supply filters: velocities and their spread */
  readonly faces: OnBases<AreaFigures>
  /** what makes up the room's supply; the same terminals, unless a duct stands for them */
  readonly supply: OnBases<AreaFigures>
  /** null where the method sees supply alone */
  readonly balance: AirBalance | null
  readonly criteria: readonly PreparedCriterion[]
  /** the run covers a zone only, so that nothing can be said about the room as a whole */
  readonly errors: RunErrors
  readonly settings: UncertaintySettings
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
export function roomDesignFlow(room: Pick<RoomInRun, 'body' | 'faces' | 'supply'>, volumeM3: number): DesignValue | null {
  const perHour = room.body.designAirChangesPerHour
  return perHour !== null && volumeM3 > 0
    ? { si: flowForAirChangesM3ps(perHour, volumeM3), unit: 'm3/h' }
    : designFlowOf(room.faces.as_indicated.filters.length > 0 ? room.faces.as_indicated : room.supply.as_indicated)
}

type AirChanges = NonNullable<AreaSetting['airChanges']>

function airChangesOf({ partOnly }: RoomInRun, supply: AreaFigures, volumeM3: number): AirChanges {
  const known = !partOnly && supply.flowM3ps !== null
  return {
    total: known && supply.flowM3ps !== null ? airChangesPerHour(supply.flowM3ps, volumeM3) : null,
    outside: known ? airChangesPerHour(outsideFlowM3ps(supply), volumeM3) : null,
    least: supply.leastFlowM3ps === null ? null : airChangesPerHour(supply.leastFlowM3ps, volumeM3),
  }
}

const OF_SUPPLY: readonly CriterionQuantity[] = ['flow', 'air_changes', 'outside_air_changes']

/** Holds the room against one criterion, on the basis that it names. */
function judgeRoom(room: RoomInRun, criterion: PreparedCriterion, designs: RoomDesigns, volumeM3: number): CriterionResult {
  const { basis } = criterion.stance
  const isOffset = criterion.quantity === 'air_offset' || criterion.quantity === 'air_offset_percent'
  if (isOffset && room.balance && !room.partOnly) {
    const as = criterion.quantity === 'air_offset_percent' ? 'percent' : 'flow'
    const uncertainty = offsetUncertainty(room.errors, offsetParts(room.balance, basis), room.settings, as)
    const at = areaMeasuredAt(room.balance.crossing.as_indicated.filters)
    return judgeOffset(heldAt(criterion, at), room.id, room.balance, uncertainty)
  }
  const on = OF_SUPPLY.includes(criterion.quantity) ? room.supply : room.faces
  const area = figuresOn(on, basis) ?? on.as_indicated
  const { partOnly, givesFlow } = room
  const airChanges = airChangesOf(room, area, volumeM3)
  const setting: AreaSetting = { subjectId: room.id, ...designs, airChanges, partOnly, givesFlow }
  const lack = lackOn(on, basis)
  const certain = onBasis(room, area, basis, volumeM3, airChanges)
  const uncertainty = lack === null && !partOnly ? areaUncertainty(room.errors, certain, criterion.quantity) : null
  const held = heldAt(lacking(criterion, lack), areaMeasuredAt(area.filters))
  return judgeFigure(held, areaEvidence(area, setting, criterion.quantity, uncertainty))
}

function onBasis({ body, settings }: RoomInRun, area: AreaFigures, basis: Basis, volumeM3: number, airChanges: AirChanges): AreaOnBasis {
  const halfWidthPercent = body.volumeUncertaintyPercent ?? settings.volumePercent
  return { area, basis, settings, volume: { volumeM3, halfWidthPercent }, airChanges }
}

type RoomDesigns = Pick<AreaSetting, 'designVelocity' | 'designFlow' | 'designAirChanges'>

function designsOf(room: RoomInRun, volumeM3: number): RoomDesigns {
  const designFlow = roomDesignFlow(room, volumeM3)
  const perHour = room.body.designAirChangesPerHour ?? (designFlow ? airChangesPerHour(designFlow.si, volumeM3) : null)
  const { designVelocity } = room.body
  return {
    designVelocity: designVelocity && designVelocity.si > 0 ? { si: designVelocity.si, unit: designVelocity.unit } : null,
    designFlow,
    designAirChanges: perHour === null ? null : { si: perHour, unit: '1/h' },
  }
}

/**
 * Room totals, SI and 1/h, and the criteria about the room as a whole. Total air changes count all filtered supply, outside air
 * changes the terminals fed by an air handler. Supply and air changes are none while a terminal in service has no flow, and
 * for a run that covers a zone only; what has been measured so far is kept beside, never instead. Figures are of actual air where all of them
 * are known so, else as indicated. Source: the house's rule A1.
 */
export function roomResult(room: RoomInRun): { figures: RoomFigures; criteria: CriterionResult[] } {
  const { partOnly } = room
  const volumeM3 = roomVolumeM3(room.body)
  const basis = room.supply.main === 'actual' && lackOn(room.faces, 'actual') === null ? 'actual' : 'as_indicated'
  const supply = figuresOn(room.supply, basis) ?? room.supply.as_indicated
  const faces = figuresOn(room.faces, basis) ?? room.faces.as_indicated
  const designs = designsOf(room, volumeM3)
  const { designFlow } = designs
  const shownOffset = room.balance && offsetParts(room.balance, room.balance.mass ? 'standard' : 'as_indicated')
  const offset = offsetUncertainty(room.errors, shownOffset, room.settings, 'flow')
  const supplyFlowM3ps = partOnly ? null : supply.flowM3ps
  const airChanges = airChangesOf(room, supply, volumeM3)
  const flowOn = byBasis(room.supply, ({ flowM3ps }) => ({ meanVelocityMps: null, flowM3ps: partOnly ? null : flowM3ps }))
  const meanOn = byBasis(room.faces, ({ meanMps }) => ({ meanVelocityMps: partOnly ? null : meanMps, flowM3ps: null }))
  return {
    figures: {
      volumeM3,
      areaWeightedMeanVelocityMps: partOnly ? null : faces.meanMps,
      supplyFlowM3ps,
      supplySoFar: { flowM3ps: supply.flowSoFarM3ps, terminals: supply.withFlow, of: supply.inService },
      airChangesPerHour: airChanges.total,
      outsideAirChangesPerHour: airChanges.outside,
      filterToFilterRsdPercent: !partOnly && faces.filterToFilter.kind === 'known' ? faces.filterToFilter.rsdPercent : null,
      designFlowM3ps: designFlow?.si ?? null,
      percentOfDesign: supplyFlowM3ps === null || !designFlow ? null : (100 * supplyFlowM3ps) / designFlow.si,
      basis,
      byBasis: merged(meanOn, flowOn),
      balance: room.balance && !partOnly ? balanceFigures(room.balance) : null,
      uncertainty: partOnly
        ? null
        : roomUncertainties(room.errors, onBasis(room, supply, basis, volumeM3, airChanges), designFlow?.si ?? null, offset),
    },
    criteria: room.criteria
      .filter((criterion) => criterion.scope === 'room' && criterion.form.kind !== 'each_within_percent_of_mean')
      .map((criterion) => judgeRoom(room, criterion, designs, volumeM3)),
  }
}

/** Velocities of one, flows of the other; none on a basis that one of them does not have. */
function merged(velocities: ByBasis, flows: ByBasis): ByBasis {
  const on = (basis: 'standard' | 'actual') => {
    const velocity = velocities[basis]
    const flow = flows[basis]
    return velocity && flow ? { meanVelocityMps: velocity.meanVelocityMps, flowM3ps: flow.flowM3ps } : null
  }
  return {
    as_indicated: { meanVelocityMps: velocities.as_indicated.meanVelocityMps, flowM3ps: flows.as_indicated.flowM3ps },
    standard: on('standard'),
    actual: on('actual'),
  }
}
