import type { Dimension, Unit } from '#core/model/values.ts'

/** The unit every calculation uses for a dimension. */
export const SI_UNIT: Readonly<Record<Dimension, Unit>> = {
  velocity: 'm/s',
  flow: 'm3/s',
  length: 'm',
  area: 'm2',
  volume: 'm3',
  pressure: 'Pa',
  temperature: 'degC',
  percent: '%',
  air_change_rate: '1/h',
  duration: 's',
}

type Definition = {
  readonly dimension: Dimension
  readonly label: string
  readonly num: number
  readonly den: number
  readonly zero?: number
}

/**
 * SI value = (value - zero) x num / den. All factors are exact; they are kept as ratios of whole numbers, so that 90 ft/min
 * becomes the double nearest to 0.4572 and nothing less. Source: NIST Special Publication 811 (2008), appendix B.8 and B.9:
 * 1 ft = 0.3048 m and 1 in = 0.0254 m exactly, degF by (t - 32) / 1.8, conventional inch of water 249.0889 Pa, which is the
 * rounded product 25.4 mm x 9.80665 Pa/mm = 249.08891 Pa used here; conventional inch of mercury 3386.389 Pa, as printed there.
 */
const DEFINITIONS: Readonly<Record<Unit, Definition>> = {
  'm/s': { dimension: 'velocity', label: 'm/s', num: 1, den: 1 },
  'ft/min': { dimension: 'velocity', label: 'ft/min', num: 127, den: 25_000 },
  'm3/s': { dimension: 'flow', label: 'm³/s', num: 1, den: 1 },
  'm3/h': { dimension: 'flow', label: 'm³/h', num: 1, den: 3600 },
  'L/s': { dimension: 'flow', label: 'L/s', num: 1, den: 1000 },
  cfm: { dimension: 'flow', label: 'cfm', num: 28_316_846_592, den: 60_000_000_000_000 },
  m: { dimension: 'length', label: 'm', num: 1, den: 1 },
  mm: { dimension: 'length', label: 'mm', num: 1, den: 1000 },
  ft: { dimension: 'length', label: 'ft', num: 381, den: 1250 },
  in: { dimension: 'length', label: 'in', num: 127, den: 5000 },
  m2: { dimension: 'area', label: 'm²', num: 1, den: 1 },
  ft2: { dimension: 'area', label: 'ft²', num: 9_290_304, den: 100_000_000 },
  m3: { dimension: 'volume', label: 'm³', num: 1, den: 1 },
  ft3: { dimension: 'volume', label: 'ft³', num: 28_316_846_592, den: 1_000_000_000_000 },
  Pa: { dimension: 'pressure', label: 'Pa', num: 1, den: 1 },
  hPa: { dimension: 'pressure', label: 'hPa', num: 100, den: 1 },
  kPa: { dimension: 'pressure', label: 'kPa', num: 1000, den: 1 },
  inH2O: { dimension: 'pressure', label: 'inH₂O', num: 24_908_891, den: 100_000 },
  inHg: { dimension: 'pressure', label: 'inHg', num: 3_386_389, den: 1000 },
  degC: { dimension: 'temperature', label: '°C', num: 1, den: 1 },
  degF: { dimension: 'temperature', label: '°F', num: 5, den: 9, zero: 32 },
  '%': { dimension: 'percent', label: '%', num: 1, den: 1 },
  '1/h': { dimension: 'air_change_rate', label: '/h', num: 1, den: 1 },
  s: { dimension: 'duration', label: 's', num: 1, den: 1 },
  min: { dimension: 'duration', label: 'min', num: 60, den: 1 },
}

/** A value in `unit`, as the SI value of its dimension (see {@link SI_UNIT}). NaN and infinities pass through unchanged. */
export function toSi(value: number, unit: Unit): number {
  const { num, den, zero = 0 } = DEFINITIONS[unit]
  return ((value - zero) * num) / den
}

/** An SI value of the unit's dimension, in `unit`. The inverse of {@link toSi} within a few units in the last place. */
export function fromSi(si: number, unit: Unit): number {
  const { num, den, zero = 0 } = DEFINITIONS[unit]
  return (si * den) / num + zero
}

/**
 * A difference in `unit` (a step, an uncertainty, a margin), as the SI difference: the zero of the scale has no say, so that 1 °F apart is
 * 5/9 °C apart. For every unit but the temperatures the same as {@link toSi}. NaN and infinities pass through unchanged. Source: NIST
 * Special Publication 811 (2008), appendix B.9, temperature intervals (from memory).
 */
export function toSiDifference(value: number, unit: Unit): number {
  const { num, den } = DEFINITIONS[unit]
  return (value * num) / den
}

/** An SI difference in `unit`. The inverse of {@link toSiDifference} within a few units in the last place. */
export function fromSiDifference(si: number, unit: Unit): number {
  const { num, den } = DEFINITIONS[unit]
  return (si * den) / num
}

/** What a unit measures. */
export function dimensionOf(unit: Unit): Dimension {
  return DEFINITIONS[unit].dimension
}

/** The unit as it is printed: "m³/h", "°C". */
export function unitLabel(unit: Unit): string {
  return DEFINITIONS[unit].label
}
