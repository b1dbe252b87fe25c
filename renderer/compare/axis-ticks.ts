export type AxisTicks = { readonly ticks: readonly number[]; readonly decimals: number }

const MOST_STEPS = 6
const NONE: AxisTicks = { ticks: [], decimals: 0 }

/** Round places along an axis that hold all the values, at most seven, and the decimals that tell them apart. Empty without a value. */
export function axisTicks(values: readonly number[]): AxisTicks {
  const known = values.filter(Number.isFinite)
  if (known.length === 0) return NONE
  const low = Math.min(...known)
  const high = Math.max(...known)
  const span = high - low || Math.abs(high) / 10 || 1
  const power = Math.floor(Math.log10(span / MOST_STEPS))
  const step = [1, 2, 5, 10].map((factor) => ({ factor, size: factor * 10 ** power })).find(({ size }) => fits(low, high, size))
  if (!step) return NONE
  const first = Math.floor(low / step.size)
  const last = Math.max(first + 1, Math.ceil(high / step.size))
  const decimals = Math.max(0, step.factor === 10 ? -power - 1 : -power)
  return {
    ticks: Array.from({ length: last - first + 1 }, (_, index) => Number(((first + index) * step.size).toFixed(decimals))),
    decimals,
  }
}

function fits(low: number, high: number, size: number): boolean {
  return Math.ceil(high / size) - Math.floor(low / size) <= MOST_STEPS
}
