import type { PreparedCriterion } from '#core/criteria/prepare.ts'
import type { MeasuredAt } from '#core/criteria/stance.ts'
import type { FilterFigures } from './filter-figures.ts'
import { isFilter } from './ways.ts'

/** How and where a terminal was measured, where that is not on the plane at its filter; null where it is. */
export function terminalMeasuredAt({ way, direction, of }: FilterFigures): MeasuredAt | null {
  const own = isFilter(of.terminal.body.kind) ? 'filter' : direction === 'supply' ? 'supply_duct' : direction
  return way === 'face_grid' && own === 'filter' ? null : { way, of: own }
}

/** How the terminals of a room or zone were measured; null where all of them were on the plane at their filters, or there are none. */
export function areaMeasuredAt(filters: readonly FilterFigures[]): MeasuredAt | null {
  const [first] = filters
  if (!first) return null
  const way = filters.every((filter) => filter.way === first.way) ? first.way : 'mixed'
  const onFaces = way === 'face_grid' && filters.every(({ of }) => isFilter(of.terminal.body.kind))
  return onFaces ? null : { way, of: null }
}

/** The criterion as it is held there: its reasons then say where the air was measured, and of what they speak. */
export function heldAt(criterion: PreparedCriterion, at: MeasuredAt | null): PreparedCriterion {
  if (at === null) return criterion
  const { excluded } = criterion
  const stance = { ...criterion.stance, at }
  // What does not apply keeps its title, and says where the air was measured.
  const outside = excluded && { ...excluded, params: { ...excluded.params, stance: { ...stance, at: { ...at, of: null } } } }
  return { ...criterion, stance, excluded: outside }
}
