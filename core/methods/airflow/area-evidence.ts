import type { Evidence } from '#core/criteria/judge.ts'
import type { PreparedCriterion } from '#core/criteria/prepare.ts'
import { message } from '#core/messages/say.ts'
import type { CriterionQuantity } from '#core/model/criteria.ts'
import type { Sentence } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import type { AreaFigures } from './area-figures.ts'
import type { DesignValue } from './design.ts'
import { NO_READING, NO_SUCH_FIGURE, NOT_POSITIVE, noSpread } from './filter-evidence.ts'

type Reason = (criterion: PreparedCriterion) => Sentence

/** What stands beside an area's figures: its design values, and air changes where it is a whole room. */
export type AreaSetting = {
  readonly subjectId: Uuid
  readonly designVelocity: DesignValue | null
  readonly designFlow: DesignValue | null
  readonly designAirChanges: DesignValue | null
  /** null in a zone: air changes belong to rooms */
  readonly airChanges: { readonly total: number | null; readonly outside: number | null; readonly least: number | null } | null
  /** the run saw only a part of the subject */
  readonly partOnly: boolean
  /** the plane of the run gives flows */
  readonly givesFlow: boolean
}

const oneFilter: Reason = (criterion) => message('reason.one_filter', { title: criterion.title, source: criterion.source })
const partOfRoom: Reason = (criterion) => message('reason.part_of_room', { title: criterion.title, source: criterion.source })
const singleValues: Reason = (criterion) => message('reason.single_value', { title: criterion.title, source: criterion.source })
const NO_VOLUME = {
  verdict: 'not_tested',
  reason: (criterion: PreparedCriterion) => message('reason.no_volume', { title: criterion.title, source: criterion.source }),
} as const
const NO_COMMON_MEASURE = {
  verdict: 'not_tested',
  reason: (criterion: PreparedCriterion) => message('reason.no_common_measure', { title: criterion.title, source: criterion.source }),
} as const

/** What is told of the open faces alone. */
const SPREADS: readonly CriterionQuantity[] = ['velocity_spread', 'largest_deviation', 'filter_to_filter_spread']

/** What a zone or room has to show for a quantity; `uncertainty` is that of the value. */
export function areaEvidence(
  area: AreaFigures,
  setting: AreaSetting,
  quantity: CriterionQuantity,
  uncertainty: Evidence['uncertainty'] = null,
): Evidence {
  const outside = setting.partOnly ? partOfRoom : null
  const noVelocity = outside ?? (area.withoutVelocity > 0 ? singleValues : null)
  const base = {
    subjectId: setting.subjectId,
    gap: area.gap,
    reversed: area.reversed,
    closedFaces: SPREADS.includes(quantity) ? area.closedFaces : 0,
    allBelowRange: area.allBelowRange,
    uncovered: area.uncovered,
    released: area.released,
    outside,
    design: null,
    leastPossible: null,
    uncertainty,
  }
  switch (quantity) {
    case 'face_velocity':
      return {
        ...base,
        value: area.meanMps,
        none: NO_READING,
        outside: noVelocity,
        leastPossible: area.leastMeanMps,
        design: setting.designVelocity,
      }
    case 'flow':
      return {
        ...base,
        value: area.flowM3ps,
        none: NO_READING,
        outside: outside ?? (setting.givesFlow ? null : NO_SUCH_FIGURE),
        leastPossible: area.leastFlowM3ps,
        design: setting.designFlow,
      }
    case 'velocity_spread':
      return {
        ...base,
        value: area.relativeStandardDeviationPercent,
        outside: noVelocity,
        none: noSpread(area.pointsMeasured, area.openMeanMps),
        leastPossible: area.leastRsdPercent,
      }
    case 'largest_deviation':
      return {
        ...base,
        value: area.largestDeviationPercent,
        outside: noVelocity,
        none: noSpread(area.pointsMeasured, area.openMeanMps),
        leastPossible: area.leastDeviationPercent,
      }
    case 'air_offset':
    case 'air_offset_percent':
      return { ...base, value: null, none: null, outside: outside ?? NO_SUCH_FIGURE }
    case 'filter_to_filter_spread': {
      const spread = area.filterToFilter
      if (spread.kind === 'known') return { ...base, value: spread.rsdPercent, none: null }
      const none = spread.kind === 'not_positive' ? NOT_POSITIVE : spread.kind === 'no_common_measure' ? NO_COMMON_MEASURE : NO_READING
      return { ...base, value: null, none, outside: outside ?? (spread.kind === 'one_filter' ? oneFilter : null) }
    }
    case 'air_changes':
    case 'outside_air_changes': {
      const { airChanges } = setting
      if (!airChanges || !setting.givesFlow) return { ...base, value: null, none: null, outside: outside ?? NO_SUCH_FIGURE }
      const value = quantity === 'air_changes' ? airChanges.total : airChanges.outside
      return {
        ...base,
        value,
        none: area.flowM3ps === null ? NO_READING : NO_VOLUME,
        leastPossible: quantity === 'air_changes' ? airChanges.least : null,
        design: quantity === 'air_changes' ? setting.designAirChanges : null,
      }
    }
  }
}
