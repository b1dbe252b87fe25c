import type { Evidence, NoFigure } from '#core/criteria/judge.ts'
import type { PreparedCriterion } from '#core/criteria/prepare.ts'
import type { ReleasedUse, UncoveredUse } from '#core/criteria/stance.ts'
import { message } from '#core/messages/say.ts'
import type { CriterionQuantity } from '#core/model/criteria.ts'
import type { Sentence } from '#core/model/results.ts'
import type { FilterFigures } from './filter-figures.ts'

type Reason = (criterion: PreparedCriterion) => Sentence

const titled = (criterion: PreparedCriterion) => ({ title: criterion.title, source: criterion.source })
const noSuchFigure: Reason = (criterion) => message('reason.no_such_figure', titled(criterion))

/** Spread of a set that has none: a single point, or a mean that is not above zero. */
export const ONE_POINT: NoFigure = { verdict: 'not_tested', reason: (criterion) => message('reason.one_point', titled(criterion)) }
export const NOT_POSITIVE: NoFigure = {
  verdict: 'fail',
  reason: (criterion) => message('reason.mean_not_positive', { ...titled(criterion), stance: criterion.stance }),
}
export const NO_READING: NoFigure = { verdict: 'not_tested', reason: (criterion) => message('reason.no_reading', titled(criterion)) }
export const NO_SUCH_FIGURE: Reason = noSuchFigure

/** Why a spread is none although nothing is missing. */
export function noSpread(points: number, meanMps: number | null): NoFigure {
  if (points === 0) return NO_READING
  if (meanMps !== null && !(meanMps > 0)) return NOT_POSITIVE
  return ONE_POINT
}

function closedReason(filter: FilterFigures): Reason | null {
  const { closed } = filter.of.terminal.body
  return filter.closed && closed ? (criterion) => message('reason.closed', { ...titled(criterion), because: closed.reason }) : null
}

/** Uses of instruments that the figure rests on; for a criterion about the zone's mean those of the whole zone. */
export type Uses = { readonly uncovered: readonly UncoveredUse[]; readonly released: readonly ReleasedUse[] }

/**
 * What a filter has to show for a quantity. A closed terminal is outside every criterion about the filter itself (it counts as
 * zero in the room); quantities of a room are outside as well.
 */
export function filterEvidence(filter: FilterFigures, quantity: CriterionQuantity): Evidence {
  const { of, gap, design } = filter
  const base = {
    subjectId: of.terminal.id,
    gap,
    reversed: filter.reversed,
    allBelowRange: filter.allBelowRange,
    uncovered: of.uncovered,
    released: of.released,
  }
  const closed = closedReason(filter)
  switch (quantity) {
    case 'face_velocity':
      return {
        ...base,
        value: filter.meanMps,
        none: NO_READING,
        outside: closed,
        leastPossible: filter.leastMeanMps,
        design: design.velocity,
      }
    case 'flow': {
      const share = filter.areaM2 * filter.correctionFactor
      const measurable = filter.flowM3ps !== null || filter.meanMps === null
      return {
        ...base,
        value: filter.flowM3ps,
        none: NO_READING,
        outside: closed ?? (measurable ? null : noSuchFigure),
        leastPossible: filter.leastMeanMps === null ? null : filter.leastMeanMps * share,
        design: design.flow,
      }
    }
    case 'velocity_spread':
      return {
        ...base,
        value: filter.relativeStandardDeviationPercent,
        none: noSpread(filter.pointsMeasured, filter.meanMps),
        outside: closed,
        leastPossible: filter.leastRsdPercent,
        design: null,
      }
    case 'largest_deviation':
      return {
        ...base,
        value: filter.largestDeviationPercent,
        none: noSpread(filter.pointsMeasured, filter.meanMps),
        outside: closed,
        leastPossible: filter.leastDeviationPercent,
        design: null,
      }
    case 'air_changes':
    case 'outside_air_changes':
    case 'filter_to_filter_spread':
      return { ...base, value: null, none: null, outside: closed ?? noSuchFigure, leastPossible: null, design: null }
  }
}
