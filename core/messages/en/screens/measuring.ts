import type { Duct, FlowElement, FlowWay, Terminal } from '#core/model/terminals.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { TRAVERSE_PROBLEM, TRAVERSE_RULE } from '../traverse-words.ts'

type None = Record<never, never>

const WAY: Readonly<Record<FlowWay, string>> = {
  face_grid: 'a grid of velocities over the face',
  hood: 'a capture hood',
  duct_traverse: 'a traverse of the duct',
  flow_element: 'an orifice, nozzle or venturi',
}
const REMARK = {
  too_small: 'The duct is smaller than what can be traversed well',
  too_near_after: 'Too near behind a bend, damper, fan or branch',
  too_near_before: 'Too near ahead of a bend, damper, fan or branch',
  cyclonic: 'The air swirls here: a traverse is not to be trusted',
  short_after: 'Less straight duct behind than ideal',
  short_before: 'Less straight duct ahead than ideal',
  not_recorded: 'The straight lengths are not recorded',
} as const
const DIRECTION: Readonly<Record<Duct['direction'], string>> = { supply: 'supply', return: 'return', exhaust: 'exhaust' }
const ELEMENT: Readonly<Record<FlowElement['kind'], string>> = {
  discharge: 'bore and stated coefficient',
  stated: 'stated flow at one pascal',
}

/** How terminals, doors and rooms are described beyond their place: ways of measuring, ducts, systems, uncertainties. */
export const measuring = {
  'measuring.title': (_p: None) => 'How its air is measured',
  'measuring.way': (_p: None) => 'Measured with',
  'measuring.way.choice': (p: { of: { way: FlowWay } }) => WAY[p.of.way],
  'measuring.way.proposed': (p: { of: { way: FlowWay | null } }) =>
    p.of.way === null ? 'proposed: describe the duct or its flow element' : `proposed: ${WAY[p.of.way]}`,
  'measuring.way.proposed_each': (_p: None) => 'proposed for each',
  'measuring.way.swirl': (p: { of: { face: Terminal['face'] } }) =>
    p.of.face === 'swirl'
      ? 'A grid of velocities over a swirl diffuser tells little; a hood suits better (common practice).'
      : 'A grid of velocities over a louvre or grille tells little; a hood suits better (common practice).',
  'measuring.system': (_p: None) => 'Air system',
  'measuring.no_system': (_p: None) => 'none',
  'measuring.adjustable': (_p: None) => 'Can be set (damper or speed)',
  'measuring.area_uncertainty': (_p: None) => 'Area uncertain by ±',
  'measuring.volume_uncertainty': (_p: None) => 'Volume uncertain by ±',
  'measuring.factor_uncertainty': (_p: None) => 'Factor uncertain by ±',
  'measuring.uncertainty_hint': (_p: None) => 'Half the width, percent; empty takes the one of the criteria set.',

  'measuring.duct': (_p: None) => 'Duct traverse',
  'measuring.duct.describe': (_p: None) => 'Describe the duct',
  'measuring.duct.forget': (_p: None) => 'Forget the duct',
  'measuring.duct.shape': (_p: None) => 'Shape',
  'measuring.duct.shape.choice': (p: { of: { shape: 'rectangle' | 'round' } }) => (p.of.shape === 'round' ? 'round' : 'rectangular'),
  'measuring.duct.width': (_p: None) => 'Inside width',
  'measuring.duct.height': (_p: None) => 'Inside height',
  'measuring.duct.diameter': (_p: None) => 'Inside diameter',
  'measuring.duct.size_hint': (_p: None) => 'Inside, lining taken off.',
  'measuring.duct.rule': (_p: None) => 'Places by',
  'measuring.duct.rule.choice': (p: { of: { rule: Duct['rule'] } }) => TRAVERSE_RULE[p.of.rule],
  'measuring.duct.lines': (p: { of: { shape: 'rectangle' | 'round' } }) => (p.of.shape === 'round' ? 'Diameters' : 'Lines'),
  'measuring.duct.points': (_p: None) => 'Points on each',
  'measuring.duct.own_number': (p: { n: number | null }) => (p.n === null ? "Empty: the rule's own number." : `The rule takes ${p.n}.`),
  'measuring.duct.measures': (_p: None) => 'What is read',
  'measuring.duct.measures.choice': (p: { of: { measures: Duct['measures'] } }) =>
    p.of.measures === 'velocity' ? 'velocity' : 'velocity pressure',
  'measuring.duct.pitot': (_p: None) => 'Coefficient of the tube',
  'measuring.duct.pitot_hint': (_p: None) => 'From its certificate; 1 for a pitot-static tube of the usual form (common practice).',
  'measuring.duct.direction': (_p: None) => 'Its air is',
  'measuring.duct.direction.choice': (p: { of: { direction: Duct['direction'] } }) => DIRECTION[p.of.direction],
  'measuring.duct.counts': (_p: None) =>
    'Stands for the terminals of the room in this direction and on the same air system; where one of the two names no system, it stands for them too',
  'measuring.duct.straight_before': (_p: None) => 'Straight behind',
  'measuring.duct.straight_after': (_p: None) => 'Straight ahead',
  'measuring.duct.straight_hint': (_p: None) => 'Straight duct the air has come through, and will go through.',
  'measuring.duct.swirl': (_p: None) => 'Swirl',
  'measuring.duct.swirl.choice': (p: { of: { swirl: 'none' | 'found' | 'not_looked' } }) =>
    ({ none: 'looked for, none', found: 'found', not_looked: 'nobody looked' })[p.of.swirl],
  'measuring.duct.problem': (p: { of: { problem: keyof typeof TRAVERSE_PROBLEM } }) => TRAVERSE_PROBLEM[p.of.problem],
  'measuring.duct.remark': (
    p: { of: { remark: keyof typeof REMARK }; found: number | null; limit: number | null; unit: 'm' | 'm2' | 'diameters' | null },
    f: Formatter,
  ) => {
    const amount = (value: number) => {
      if (p.unit === 'diameters') return `${Number(value.toFixed(2))} diameters`
      return f.quantity(value, p.unit === 'm2' ? 'area' : 'length')
    }
    return p.found === null || p.limit === null
      ? `${REMARK[p.of.remark]}.`
      : `${REMARK[p.of.remark]}: ${amount(p.found)}, at least ${amount(p.limit)} (40 CFR 60, appendix A-1, Method 1).`
  },
  'measuring.duct.kind_place': (_p: None) => 'Duct section',

  'measuring.depths': (p: { tag: string }) => `Depths for ${p.tag}`,
  'measuring.depths.open': (p: { points: number }) => `${p.points} points and their depths`,
  'measuring.depths.about': (p: { size: string; of: { rule: Duct['rule'] }; points: number }) =>
    `${p.size}, ${TRAVERSE_RULE[p.of.rule]}, ${p.points} points. Depths count from the inner wall at the port; add the thickness of wall and fitting to the mark on the probe.`,
  'measuring.depths.place': (_p: None) => 'Point',
  'measuring.depths.share': (_p: None) => 'Share of the line',
  'measuring.depths.depth': (_p: None) => 'Depth',
  'measuring.depths.line': (p: { n: number; of: { shape: 'rectangle' | 'round' } }) =>
    p.of.shape === 'round' ? `Diameter ${p.n}` : `Line ${p.n}`,
  'measuring.depths.port': (p: { of: { shape: 'rectangle' | 'round' } }) =>
    p.of.shape === 'round'
      ? 'Port, degrees clockwise from the top, seen with the air'
      : 'Port, from the left inner wall, seen with the air',
  'measuring.depths.degrees': (p: { value: number }) => `${Number(p.value.toFixed(1))}°`,
  'measuring.depths.percent': (p: { value: number }, f: Formatter) => f.decimal(100 * p.value, 2),
  'measuring.depths.lines': (_p: None) => 'Where the lines stand',
  'measuring.depths.points': (_p: None) => 'On every line',
  'measuring.depths.copy': (_p: None) => 'Copy as a table',
  'measuring.depths.copied': (_p: None) => 'The table is on the clipboard.',
  'measuring.depths.not_copied': (_p: None) => 'The clipboard refused the table. Select it and copy it by hand.',
  'measuring.depths.print': (_p: None) => 'Print',

  'measuring.element': (_p: None) => 'Flow element',
  'measuring.element.describe': (_p: None) => 'Describe a flow element',
  'measuring.element.forget': (_p: None) => 'Forget the flow element',
  'measuring.element.kind': (_p: None) => 'Known by',
  'measuring.element.kind.choice': (p: { of: { kind: FlowElement['kind'] } }) => ELEMENT[p.of.kind],
  'measuring.element.coefficient': (_p: None) => 'Discharge coefficient',
  'measuring.element.bore': (_p: None) => 'Bore',
  'measuring.element.duct': (_p: None) => 'Duct, inside',
  'measuring.element.expansibility': (_p: None) => 'Expansibility',
  'measuring.element.uncertainty': (_p: None) => 'Coefficient and bore, or stated flow, uncertain by ±',
  'measuring.element.expansibility_hint': (_p: None) => '1 for air at the pressures of ventilation.',
  'measuring.element.flow': (_p: None) => 'Flow at 1 Pa',
  'measuring.element.density': (_p: None) => 'Stated at a density of, kg/m³',

  'measuring.transfer': (_p: None) => 'Known air through this door',
  'measuring.transfer.flow': (p: { from: string; to: string }) => `From ${p.from} to ${p.to}`,
  'measuring.transfer.flow_hint': (_p: None) => 'Negative the other way. Leave empty when it is not known.',
  'measuring.transfer.basis': (_p: None) => 'As',
  'measuring.transfer.basis.choice': (p: { of: { basis: 'as_indicated' | 'standard' | 'actual' } }) =>
    ({ as_indicated: 'indicated', standard: 'standard air', actual: 'actual air' })[p.of.basis],
  'measuring.transfer.how': (_p: None) => 'How it is known',
  'measuring.transfer.set': (_p: None) => 'Use this flow',
  'measuring.transfer.clear': (_p: None) => 'It is not known',
}
