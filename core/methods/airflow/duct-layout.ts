import type { Location } from '#core/model/readings.ts'
import type { Duct } from '#core/model/terminals.ts'
import {
  layOutTraverse,
  type RectangularTraverse,
  type RoundTraverse,
  type TraverseLayout,
  type TraverseProblem,
} from '../traverse/layout.ts'
import type { DuctSection } from '../traverse/rule.ts'

/** A duct's inside section as entered, in metres. */
export function ductSectionOf({ section }: Pick<Duct, 'section'>): DuctSection {
  return section.shape === 'round'
    ? { shape: 'round', diameterM: section.diameter.si }
    : { shape: 'rectangular', widthM: section.width.si, heightM: section.height.si }
}

/** What to traverse; null where the rule does not belong to the shape (log-Tchebycheff: rectangular, log-linear: round). */
function traverseOf(duct: Duct): RectangularTraverse | RoundTraverse | null {
  const section = ductSectionOf(duct)
  const { rule, lines, pointsPerLine } = duct
  if (section.shape === 'round') return rule === 'log_tchebycheff' ? null : { section, rule, lines, pointsPerLine }
  return rule === 'log_linear' ? null : { section, rule, lines, pointsPerLine }
}

/** The traverse of a duct by its rule, with the depth of every point; or the field that does not fit. */
export function ductTraverse(duct: Duct): TraverseLayout | TraverseProblem | { readonly problem: 'rule' } {
  const traverse = traverseOf(duct)
  return traverse ? layOutTraverse(traverse) : { problem: 'rule' }
}

/**
 * Points of a traverse for a run: row = line, column = place on the line from the port, offsets in m from the centre of the section as seen looking
 * with the air, equal shares of the area (m2). None where the duct's rule, size or numbers do not fit each other.
 */
export function ductPoints(terminalId: string, duct: Duct): Omit<Location, 'number'>[] {
  const layout = ductTraverse(duct)
  if ('problem' in layout) return []
  const cellAreaM2 = layout.areaM2 / layout.points.length
  return layout.points.map(({ line, place, offsetXM, offsetYM }) => ({
    kind: 'duct_point',
    terminalId,
    row: line,
    column: place,
    offsetXM,
    offsetYM,
    cellAreaM2,
  }))
}
