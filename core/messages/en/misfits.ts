import type { PlaceRemark } from '#core/methods/traverse/place-check.ts'
import { DIMENSION_OF_QUANTITY } from '#core/model/rule-problem.ts'
import type { Quantity } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'

type Named = { instrument: string }
type Ranged = Named & { tag: string; figure: { quantity: Quantity; design: number; low: number; high: number } }

/** Quantities within a sentence. */
export const WHAT: Readonly<Record<Quantity, string>> = {
  velocity: 'velocity',
  flow: 'flow',
  pressure_difference: 'a pressure difference',
  velocity_pressure: 'velocity pressure',
  temperature: 'temperature',
  relative_humidity: 'relative humidity',
  barometric_pressure: 'barometric pressure',
}

function rangeWords({ instrument, tag, figure }: Ranged, f: Formatter): string {
  const dimension = DIMENSION_OF_QUANTITY[figure.quantity]
  return `${tag}: the design is ${f.quantity(figure.design, dimension)}, and ${instrument} measures from ${f.quantity(figure.low, dimension)} to ${f.quantity(figure.high, dimension)}.`
}

function remarkWords({ code, found, limit }: PlaceRemark, f: Formatter): string {
  const diameters = `${found === null ? '?' : Number(found.toPrecision(2))} duct diameters`
  const least = limit === null ? '' : String(limit)
  switch (code) {
    case 'too_small':
      return `the duct is too small to traverse (${f.quantity(found ?? 0, limit === 0.3 ? 'length' : 'area')}, at least ${f.quantity(limit ?? 0, limit === 0.3 ? 'length' : 'area')}).`
    case 'too_near_after':
      return `only ${diameters} of straight duct lie behind the section; at least ${least} are needed.`
    case 'too_near_before':
      return `only ${diameters} of straight duct lie ahead of the section; at least ${least} are needed.`
    case 'cyclonic':
      return 'the air swirls in the duct, so that a traverse along it does not measure the flow.'
    case 'short_after':
      return `${diameters} of straight duct lie behind the section; ${least} would be better.`
    case 'short_before':
      return `${diameters} of straight duct lie ahead of the section; ${least} would be better.`
    case 'not_recorded':
      return 'it is not recorded how much straight duct lies behind and ahead of the section.'
  }
}

/** What does not suit about a run's instruments, times and places, and what the certifier is asked. */
export const misfits = {
  'misfit.directional_in_turbulent_air': (p: Named) =>
    `${p.instrument} senses one direction only; in turbulent air it reads low. Use an omnidirectional probe.`,
  'misfit.omnidirectional_in_one_way_air': (p: Named) =>
    `${p.instrument} senses every direction alike; in air of one direction it also reads what crosses it. Use a directional probe, held to its mark.`,
  'misfit.hold_to_mark': (p: Named) => `Is the mark on the probe of ${p.instrument} held into the air at every point?`,
  'misfit.sensors_in_stream': (p: Named) =>
    `Do both sensors of ${p.instrument}, for velocity and for temperature, stand in the stream, neither in a shadow nor at a wall?`,
  'misfit.averaging_too_short': (p: { averagingS: number; leastS: number }, f: Formatter) =>
    `Turbulent air asks for at least ${f.quantity(p.leastS, 'duration')} of averaging at each point; this run has ${f.quantity(p.averagingS, 'duration')}.`,
  'misfit.nothing_senses': (p: { tag: string; what: { quantity: Quantity } }) =>
    `${p.tag}: no instrument of this run measures ${WHAT[p.what.quantity]}.`,
  'misfit.design_out_of_range': rangeWords,
  'misfit.hood_out_of_range': (p: Ranged, f: Formatter) => `${rangeWords(p, f)} A hood outside its range pushes the air back or misses it.`,
  'misfit.grid_on_swirl': (p: { tag: string }) =>
    `${p.tag}: air leaves a swirl or louvred face at an angle, so that velocities in front of it do not add up to its flow. Use a hood.`,
  'misfit.traverse_place': (p: { tag: string; remark: PlaceRemark }, f: Formatter) => `${p.tag}: ${remarkWords(p.remark, f)}`,
  'misfit.zero_first': (_p: Record<string, never>) => 'Was the pressure instrument set to zero, with both ports open, before use? Note it.',
}
