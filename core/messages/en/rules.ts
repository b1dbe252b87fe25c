import type { Duct, TerminalFace } from '#core/model/terminals.ts'
import type { Dimension, Unit } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'

const WHAT: Record<Dimension, string> = {
  velocity: 'a velocity',
  flow: 'an air flow',
  length: 'a length',
  area: 'an area',
  volume: 'a volume',
  pressure: 'a pressure',
  temperature: 'a temperature',
  percent: 'a percentage',
  air_change_rate: 'air changes per hour',
  duration: 'a duration',
}

/** What does not fit together in a room, terminal, instrument and so on: said at the field, with what to enter. */
export const rules = {
  'rule.dimension': (p: { expected: Dimension; given: Unit }, f: Formatter) =>
    `This must be ${WHAT[p.expected]}, such as a value in ${f.unit(p.expected)}.`,
  'rule.above_zero': (_p: Record<never, never>) => 'Enter a value above zero.',
  'rule.not_below_zero': (_p: Record<never, never>) => 'Enter zero or more.',
  'rule.typed_differs': (p: { typed: string; si: number; dimension: Dimension }, f: Formatter) =>
    `The text “${p.typed}” does not say ${f.quantity(p.si, p.dimension)}. Type the value again.`,
  'rule.difference_shifted': (p: { typed: string }) =>
    `“${p.typed}” is a difference of temperatures and was reckoned as a temperature. Type it again.`,
  'rule.effective_above_gross': (p: { effectiveM2: number; grossM2: number }, f: Formatter) => {
    const { value, limit } = f.against(p.effectiveM2, p.grossM2, 'area')
    return `The effective area of ${value} is larger than the whole face of ${limit}. Correct one of them.`
  },
  'rule.low_not_below_high': (_p: Record<never, never>) => 'The low end must lie below the high end.',
  'rule.standard_condition_range': (p: { dimension: Dimension; low: number; high: number }, f: Formatter) =>
    `A standard condition lies between ${f.quantity(p.low, p.dimension)} and ${f.quantity(p.high, p.dimension)}. Take it from the data sheet.`,
  'rule.factor_ranges_overlap': (p: { face: TerminalFace }) =>
    `Two factors for one face (${p.face}) hold for the same flow. Let one range end where the next begins.`,
  'rule.same_reading_twice': (_p: Record<never, never>) => 'A point with this reading stands here already. Keep one of the two.',
  'rule.traverse_rule_shape': (p: { rule: Duct['rule']; shape: Duct['section']['shape'] }) =>
    p.shape === 'round'
      ? 'A round duct is traversed by log-linear places or by equal areas. Choose one of them.'
      : 'A rectangular duct is traversed by log-Tchebycheff places or by equal areas. Choose one of them.',
  'rule.bore_not_below_duct': (_p: Record<never, never>) => 'The bore must be smaller than the duct. Correct one of them.',
  'rule.outline_crosses': (_p: Record<never, never>) => 'The outline crosses or touches itself. Move or remove a corner.',
  'rule.outline_without_area': (_p: Record<never, never>) => 'The outline encloses no area. Draw it with at least three corners apart.',
  'rule.outside_room': (p: { corner: number }) => `Corner ${p.corner} lies outside the room. Move it inside or onto the wall.`,
  'rule.due_before_calibrated': (p: { calibratedOn: string; dueOn: string }, f: Formatter) =>
    `Due on ${f.date(p.dueOn)} lies before the calibration of ${f.date(p.calibratedOn)}. Correct one of the dates.`,
  'rule.ends_before_starts': (p: { startsOn: string; endsOn: string }, f: Formatter) =>
    `The end, ${f.date(p.endsOn)}, lies before the start, ${f.date(p.startsOn)}. Correct one of the dates.`,
  'rule.removed_before_installed': (p: { installedOn: string; removedOn: string }, f: Formatter) =>
    `Removed on ${f.date(p.removedOn)} lies before installed on ${f.date(p.installedOn)}. Correct one of the dates.`,
  'rule.unknown_time_zone': (p: { timeZone: string }) => `“${p.timeZone}” is not a time zone. Choose one, such as Europe/Vienna.`,
  'rule.no_such_air': (p: { what: 'temperature' | 'relativeHumidity' | 'pressure'; low: number; high: number }, f: Formatter) => {
    const dimension = p.what === 'temperature' ? 'temperature' : p.what === 'pressure' ? 'pressure' : 'percent'
    return `Air in a building lies between ${f.quantity(p.low, dimension)} and ${f.quantity(p.high, dimension)} here. Look at the figure and its unit again.`
  },
  'rule.same_room_twice': (_p: Record<never, never>) => 'A door joins two different rooms, or a room and the outside.',
  'rule.repeated': (p: { what: string }) => `“${p.what.replaceAll('_', ' ')}” stands here twice. Keep one of them.`,
  'rule.form_does_not_fit': (p: { quantity: string; form: string }) =>
    `The form “${p.form.replaceAll('_', ' ')}” cannot be held against ${p.quantity.replaceAll('_', ' ')}. Choose another form.`,
  'rule.scope_does_not_fit': (p: { quantity: string; scope: string }) =>
    `“${p.quantity.replaceAll('_', ' ')}” is no figure of a ${p.scope}. Choose what else it is judged for.`,
  'rule.unknown_criterion': (p: { key: string }) =>
    `The criteria set that applies here has no criterion “${p.key.replaceAll('_', ' ')}”. Name one of the set, or take this one out.`,
  'rule.required_minimum_is_air_changes': (_p: Record<never, never>) =>
    'The required minimum of a room is in air changes per hour. Enter a value of its own here.',
}
