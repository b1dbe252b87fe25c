import { type CriteriaSet, type Criterion, STARTING_UNCERTAINTY } from '#core/model/criteria.ts'
import type { Entered } from '#core/model/values.ts'

const mps = (si: number, typed: string): Entered => ({ si, typed, unit: 'm/s' })
const perHour = (si: number): Entered => ({ si, typed: String(si), unit: '1/h' })

function criterion(fields: Omit<Criterion, 'alert' | 'on' | 'basis'> & { on?: boolean }): Criterion {
  return { on: true, alert: null, basis: 'actual', ...fields }
}

const unidirectional = (): Criterion[] => [
  criterion({
    key: 'zone_mean_design',
    title: 'Zone mean velocity',
    quantity: 'face_velocity',
    scope: 'zone',
    form: { kind: 'within_percent_of_design', percent: 20 },
    plane: 'any',
    source: 'FDA (2004) aseptic processing guidance: 0.45 m/s with 20 % around the set point; ISO 14644-3 style of test',
  }),
  criterion({
    key: 'filter_mean_design',
    title: 'Filter mean velocity',
    quantity: 'face_velocity',
    scope: 'filter',
    form: { kind: 'within_percent_of_design', percent: 20 },
    plane: 'any',
    source: 'FDA (2004) aseptic processing guidance: 0.45 m/s with 20 % around the set point; ISO 14644-3 style of test',
  }),
  criterion({
    key: 'working_position_guidance',
    title: 'Zone mean velocity at the working position',
    quantity: 'face_velocity',
    scope: 'zone',
    form: {
      kind: 'between',
      low: { from: 'value', value: mps(0.36, '0.36') },
      high: { from: 'value', value: mps(0.54, '0.54') },
    },
    plane: 'working_height',
    on: false,
    source: 'EU GMP Annex 1 (2022), 4.30: 0.36 to 0.54 m/s, guidance value, at the working position',
  }),
  criterion({
    key: 'zone_spread',
    title: 'Relative standard deviation over the zone',
    quantity: 'velocity_spread',
    scope: 'zone',
    form: { kind: 'spread_at_most', percent: 15 },
    plane: 'any',
    source: 'common practice; 20 % is also used',
  }),
  criterion({
    key: 'filter_spread',
    title: 'Relative standard deviation over the filter',
    quantity: 'velocity_spread',
    scope: 'filter',
    form: { kind: 'spread_at_most', percent: 15 },
    plane: 'any',
    on: false,
    source: 'common practice; 20 % is also used',
  }),
  criterion({
    key: 'points_of_zone_mean',
    title: 'Every point against the zone mean',
    quantity: 'face_velocity',
    scope: 'point',
    form: { kind: 'each_within_percent_of_mean', percent: 20, of: 'zone' },
    plane: 'any',
    source: 'common practice',
  }),
]

const nonUnidirectional = (): Criterion[] => [
  criterion({
    key: 'air_changes_minimum',
    title: 'Air changes',
    quantity: 'air_changes',
    scope: 'room',
    form: { kind: 'at_least', limit: { from: 'room_required_minimum' } },
    plane: 'any',
    source: 'required minimum of the room: FDA (2004) 20 per hour for ISO 8, USP <797> (2023) 30 for ISO 7, common practice 60 for ISO 6',
  }),
  criterion({
    key: 'filter_flow_design',
    title: 'Filter flow',
    quantity: 'flow',
    scope: 'filter',
    form: { kind: 'within_percent_of_design', percent: 15 },
    plane: 'filter_face',
    source: 'common practice',
  }),
  criterion({
    key: 'supply_design',
    title: 'Room supply flow',
    quantity: 'flow',
    scope: 'room',
    form: { kind: 'within_percent_of_design', percent: 10 },
    plane: 'filter_face',
    source: 'common practice',
  }),
  criterion({
    key: 'outside_air_changes',
    title: 'Air changes from the air handler alone',
    quantity: 'outside_air_changes',
    scope: 'room',
    form: { kind: 'at_least', limit: { from: 'value', value: perHour(15) } },
    plane: 'any',
    on: false,
    source: 'USP <797> (2023): at least 15 of the 30 per hour of an ISO 7 buffer area from the air handler',
  }),
]

/**
 * The sets to start from, fresh copies that are edited freely: one for unidirectional zones, one for non-unidirectional rooms.
 * Each criterion speaks of actual air and carries its source; the Annex 1 guidance and other options are off until switched on. Licensed standards, local
 * codes and the site's own procedures decide.
 */
export function startingCriteriaSets(): CriteriaSet[] {
  const note =
    "Starting values. Check them against the standards you are licensed for, local codes and the site's own procedures; these decide."
  const rules = { decisionRule: { kind: 'simple' }, comparison: 'absolute', note, uncertainty: STARTING_UNCERTAINTY } as const
  return [
    { name: 'Unidirectional zone, ISO 14644 style', ...rules, criteria: unidirectional() },
    { name: 'Non-unidirectional room, ISO 14644 style', ...rules, criteria: nonUnidirectional() },
  ]
}
