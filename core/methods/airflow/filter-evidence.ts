import type { Evidence, NoFigure } from '#core/criteria/judge.ts'
import type { PreparedCriterion } from '#core/criteria/prepare.ts'
import { message } from '#core/messages/say.ts'
import type { CriterionQuantity } from '#core/model/criteria.ts'
import type { Sentence } from '#core/model/results.ts'
import type { FilterFigures } from './filter-figures.ts'

type Reason = (criterion: PreparedCriterion) => Sentence

const titled = (criterion: PreparedCriterion) => ({ title: criterion.title, source: criterion.source })
const noSuchFigure: Reason = (criterion) => message('reason.no_such_figure', titled(criterion))

/** Spread of a set that has none: a single point, or a mean that is not above zero. */
const ONE_POINT: NoFigure = { verdict: 'not_tested', reason: (criterion) => message('reason.one_point', titled(criterion)) }
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

type Shown = {
  readonly value: number | null
  readonly none: NoFigure | null
  readonly outside: Reason | null
  readonly least: number | null
  readonly design: Evidence['design']
}

/** Why a terminal has no velocity of its face, by the way it is measured; null where it has. */
function noFaceVelocity({ way }: FilterFigures): Reason | null {
  if (way === 'face_grid') return null
  return (criterion) => message(way === 'duct_traverse' ? 'reason.duct_points' : 'reason.single_value', titled(criterion))
}

function shown(filter: FilterFigures, quantity: CriterionQuantity): Shown {
  const { design } = filter
  const noFace = noFaceVelocity(filter)
  switch (quantity) {
    case 'face_velocity':
      return { value: filter.meanMps, none: NO_READING, outside: noFace, least: filter.leastMeanMps, design: design.velocity }
    case 'flow': {
      const share = filter.areaM2 * filter.correctionFactor
      const measurable = filter.flowM3ps !== null || filter.meanMps === null
      const least = filter.leastMeanMps === null ? null : filter.leastMeanMps * share
      return { value: filter.flowM3ps, none: NO_READING, outside: measurable ? null : noSuchFigure, least, design: design.flow }
    }
    case 'velocity_spread': {
      const none = noSpread(filter.pointsMeasured, filter.meanMps)
      return { value: filter.relativeStandardDeviationPercent, none, outside: noFace, least: filter.leastRsdPercent, design: null }
    }
    case 'largest_deviation': {
      const none = noSpread(filter.pointsMeasured, filter.meanMps)
      return { value: filter.largestDeviationPercent, none, outside: noFace, least: filter.leastDeviationPercent, design: null }
    }
    case 'air_offset':
    case 'air_offset_percent':
    case 'air_changes':
    case 'outside_air_changes':
    case 'filter_to_filter_spread':
      return { value: null, none: null, outside: noSuchFigure, least: null, design: null }
  }
}

/**
 * What a filter has to show for a quantity. A closed terminal is outside every criterion about the filter itself (it counts as
 * zero in the room); quantities of a room are outside as well.
 * `uncertainty` is that of the value.
 */
export function filterEvidence(filter: FilterFigures, quantity: CriterionQuantity, uncertainty: Evidence['uncertainty'] = null): Evidence {
  const { value, none, outside, least, design } = shown(filter, quantity)
  return {
    subjectId: filter.of.terminal.id,
    value,
    none,
    outside: (filter.closed ? closedReason(filter) : null) ?? outside,
    gap: filter.gap,
    leastPossible: least,
    uncertainty,
    design,
    reversed: filter.reversed,
    allBelowRange: filter.allBelowRange,
    uncovered: filter.of.uncovered,
    released: filter.of.released,
  }
}
