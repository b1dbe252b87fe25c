import type { Formatter } from '#core/units/formatter.ts'

type None = Record<never, never>
const cells = (count: number) => (count === 1 ? '1 cell' : `${count} cells`)

/** Words of the cell map of a measuring plane on the room map. */
export const planeMap = {
  'plane.picture': (p: { zone: string; cells: number; outside: number; measured: number }) =>
    `Plane of ${p.zone}: ${p.measured} of ${cells(p.cells)} measured, ${p.outside} outside the limits`,
  'plane.outside': (_p: None) => 'outside the limits for points',
  'plane.not_measured': (_p: None) => 'not measured',
  'plane.no_limits': (_p: None) => 'The criteria set has no limits for points.',
  'plane.spread_note': (_p: None) => 'over the plane',
  'plane.within': (_p: None) => 'Points within limits',
  'plane.within_value': (p: { percent: number | null; outside: number }, f: Formatter) =>
    p.percent === null ? '—' : `${f.quantity(p.percent, 'percent')}, ${p.outside} outside`,
  'plane.outside_list': (_p: None) => 'Outside the limits',
  'plane.outside_line': (p: { point: number; meanMps: number }, f: Formatter) => `point ${p.point}: ${f.quantity(p.meanMps, 'velocity')}`,
}
