import { type CriterionQuantity, STARTING_UNCERTAINTY, type UncertaintySettings } from '#core/model/criteria.ts'
import type { FilterResult, RoomFigures, Uncertainty } from '#core/model/results.ts'
import type { Basis } from '#core/model/values.ts'
import { type ErrorSums, NO_ERROR } from '#core/uncertainty/error-sums.ts'
import type { RunInput } from '../../method.ts'
import type { RunAir } from '../air-of-run.ts'
import type { AreaFigures } from '../area-figures.ts'
import type { FilterFigures } from '../filter-figures.ts'
import { budgetBook } from './budget-book.ts'
import { airChangeErrors, expandedBy, RunErrors, type SettingsFor, timesExactly } from './run-errors.ts'

type SetsOfRun = Pick<RunInput, 'criteriaSet' | 'zoneCriteria'>

/** What budgets take where nothing better is known: from the set that a zone follows of its own, else from the room's; starting values without one. */
export function settingsOf({ criteriaSet, zoneCriteria }: SetsOfRun, zoneId: string | null): UncertaintySettings {
  const own = zoneId === null ? null : zoneCriteria.get(zoneId)
  return (own ?? criteriaSet)?.body.uncertainty ?? STARTING_UNCERTAINTY
}

export function settingsByTerminal(input: SetsOfRun): SettingsFor {
  return (filter) => settingsOf(input, filter.zoneId)
}

/** Opens the uncertainties of a run. */
export function runErrors(input: RunInput, air: RunAir): RunErrors {
  return new RunErrors(budgetBook(air, input.filterModels ?? new Map()), settingsByTerminal(input))
}

/** U of a terminal's figure that a criterion is held against; null where the figure has none. */
export function terminalUncertainty(
  errors: RunErrors,
  filter: FilterFigures,
  basis: Basis,
  quantity: CriterionQuantity,
): Uncertainty | null {
  const known = errors.ofTerminal(filter, basis)
  if (quantity === 'face_velocity') return filter.meanMps === null ? null : known.meanExpanded
  return quantity === 'flow' ? known.flowExpanded : null
}

/** U of a terminal's figures as results keep them, on their basis; null where there is none of any. */
export function terminalUncertainties(errors: RunErrors, filter: FilterFigures, basis: Basis): FilterResult['uncertainty'] {
  if (filter.closed) return null
  const known = errors.ofTerminal(filter, basis)
  const meanVelocity = filter.meanMps === null ? null : known.meanExpanded
  const flow = known.flowExpanded
  if (!meanVelocity && !flow) return null
  const { design, percentOfDesign } = filter
  const byFlow = design.leads === 'flow' || filter.meanMps === null
  const of = byFlow ? design.flow : design.velocity
  return {
    meanVelocity,
    flow,
    percentOfDesign: percentOfDesign === null || !of ? null : timesExactly(byFlow ? flow : meanVelocity, 100 / of.si),
  }
}

/** A room's volume with half its width, percent. */
export type UncertainVolume = { readonly volumeM3: number; readonly halfWidthPercent: number }

function airChangeSums(
  errors: RunErrors,
  filters: readonly FilterFigures[],
  perHour: number | null,
  volume: UncertainVolume,
  basis: Basis,
) {
  const flow = errors.ofSupply(filters, basis)
  if (!flow || perHour === null || !(volume.volumeM3 > 0)) return null
  return airChangeErrors(flow, volume.volumeM3, perHour, volume.halfWidthPercent)
}

/** What a zone or room is judged by, as far as its uncertainties need it. */
export type AreaOnBasis = {
  readonly area: AreaFigures
  readonly basis: Basis
  readonly settings: UncertaintySettings
  /** of a room; null for a zone */
  readonly volume: UncertainVolume | null
  readonly airChanges: { readonly total: number | null; readonly outside: number | null } | null
}

function areaSums(errors: RunErrors, { area, basis, volume, airChanges }: AreaOnBasis, quantity: CriterionQuantity): ErrorSums | null {
  switch (quantity) {
    case 'face_velocity':
      return area.meanMps === null ? null : errors.ofAreaMean(area.filters, basis)
    case 'flow':
      return area.flowM3ps === null ? null : errors.ofSupply(area.filters, basis)
    case 'air_changes':
      return volume && airChangeSums(errors, area.filters, airChanges?.total ?? null, volume, basis)
    case 'outside_air_changes': {
      // Where nothing comes from outside the room that is known without measuring: a zero that is certain.
      const outside = area.filters.filter(({ of }) => of.terminal.body.airSource === 'air_handler')
      if (outside.length === 0) return airChanges?.outside === 0 ? NO_ERROR : null
      return volume && airChangeSums(errors, outside, airChanges?.outside ?? null, volume, basis)
    }
    default:
      return null
  }
}

/** U of a zone's or room's figure that a criterion is held against; null where the figure has none. */
export function areaUncertainty(errors: RunErrors, on: AreaOnBasis, quantity: CriterionQuantity): Uncertainty | null {
  return expandedBy(areaSums(errors, on, quantity), on.settings)
}

/** U of a room's figures as results keep them; null where there is none of any. */
export function roomUncertainties(
  errors: RunErrors,
  on: AreaOnBasis,
  designFlowM3ps: number | null,
  offset: Uncertainty | null,
): RoomFigures['uncertainty'] {
  const supplyFlow = areaUncertainty(errors, on, 'flow')
  const airChanges = areaUncertainty(errors, on, 'air_changes')
  if (!supplyFlow && !airChanges && !offset) return null
  return {
    supplyFlow,
    airChanges,
    percentOfDesign: designFlowM3ps ? timesExactly(supplyFlow, 100 / designFlowM3ps) : null,
    offset,
  }
}
