import type { Duct } from '#core/model/terminals.ts'

/** The rules of a traverse in words. */
export const TRAVERSE_RULE: Readonly<Record<Duct['rule'], string>> = {
  log_tchebycheff: 'log-Tchebycheff',
  log_linear: 'log-linear',
  equal_area: 'equal areas',
}

/** Why a traverse cannot be laid out. */
export const TRAVERSE_PROBLEM = {
  rule: 'This rule is not for a duct of this shape.',
  size: 'The size must be above zero.',
  lines: 'The rule does not have this number of lines.',
  points_per_line: 'The rule does not have this number of points on a line.',
} as const
