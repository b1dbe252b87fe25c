import { interpolateCividis } from 'd3-scale-chromatic'

export type ShadeRange = { readonly lowMps: number; readonly highMps: number }

/**
 * The span that shades run over: from the least to the greatest mean on the plan, at least 0.1 m/s wide so that noise does not
 * look like structure. Null without a value.
 */
export function shadeRange(meansMps: readonly number[]): ShadeRange | null {
  if (meansMps.length === 0) return null
  const low = Math.min(...meansMps)
  const high = Math.max(...meansMps)
  const missing = Math.max(0, 0.1 - (high - low)) / 2
  return { lowMps: low - missing, highMps: high + missing }
}

/** Fill and readable ink of a velocity on the cividis scale: perceptually even, and the same for colour-blind readers. */
export function shadeOf(meanMps: number, range: ShadeRange): { fill: string; ink: 'black' | 'white' } {
  const share = (meanMps - range.lowMps) / (range.highMps - range.lowMps)
  const place = Math.min(1, Math.max(0, share))
  return { fill: interpolateCividis(place), ink: place > 0.455 ? 'black' : 'white' }
}
