import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64'
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus'
import { probit } from 'simple-statistics'
import type { AirSource } from './source.ts'

/** A normal deviate cut off at two standard deviations: an honest scatter without the wild point that would need a story of its own. */
function createScatter(seed: number): () => number {
  const random = xoroshiro128plus(seed)
  const cut = 0.0228
  return () => probit(cut + uniformFloat64(random) * (1 - 2 * cut))
}

type Kind = keyof AirSource['loadPercentPerYear']
/** A filter or grille: its design velocity is that through its effective area. */
export type AirTerminal = { readonly tag: string; readonly kind: Kind; readonly designMps: number }
export type AirPoint = { readonly index: number; readonly sideways: number }

type FilterState = {
  designMps: number
  setting: number
  since: string
  loadPerYear: number
  tilt: number
  pattern: number[]
}

export type Air = {
  /** lets everything happen that the source tells of up to this day */
  advanceTo: (day: string) => void
  /** a filter is set to this fraction of its design, as balancing does */
  set: (tag: string, fraction: number, day: string) => void
  straighten: (tag: string) => void
  /** the true velocity under one point, `sideways` from -1 to 1 across the face, and what an instrument would show of it */
  velocityMps: (tag: string, point: AirPoint, day: string) => number
  /** the mean true velocity through a face, without the unevenness and unrest of single points */
  meanMps: (tag: string, day: string) => number
  /** a normal deviate for what else scatters, one standard deviation */
  scatter: () => number
  slips: () => boolean
}

const DAYS_PER_YEAR = 365.25
const MS_PER_DAY = 86_400_000
const yearsBetween = (from: string, to: string): number => (Date.parse(to) - Date.parse(from)) / MS_PER_DAY / DAYS_PER_YEAR

/**
 * The invented air of the demo: every filter starts near its design velocity, loads and slows down year by year, keeps its own
 * uneven pattern over the face, and is touched by the events of the source. Seeded, so that the same source gives the same readings.
 */
export function createAir(source: AirSource, filters: readonly AirTerminal[], installedOn: string): Air {
  const states = new Map<string, FilterState>()
  filters.forEach((filter, index) => {
    const scatter = createScatter(source.seed + 1000 * (index + 1))
    const own = source.of[filter.tag]
    const start = own?.start ?? source.startAtPercentOfDesign.mean + source.startAtPercentOfDesign.spread * scatter()
    const load = own?.load ?? source.loadPercentPerYear[filter.kind] * (1 + 0.3 * scatter())
    states.set(filter.tag, {
      designMps: filter.designMps,
      setting: start / 100,
      since: installedOn,
      loadPerYear: load / 100,
      tilt: 0,
      pattern: Array.from({ length: 40 }, () => 1 + (source.pointToPointPercent / 100) * scatter()),
    })
  })
  const scatter = createScatter(source.seed)
  const events = [...source.events].sort((a, b) => a.on.localeCompare(b.on))
  const drifts = new Map<string, number>()
  let readings = 0

  const stateOf = (tag: string): FilterState => {
    const state = states.get(tag)
    if (!state) throw new Error(`The demo source speaks of a filter ${tag} that the site does not have.`)
    return state
  }
  const set = (tag: string, fraction: number, day: string): void => {
    const state = stateOf(tag)
    state.setting = fraction
    state.since = day
  }
  const driftOn = (day: string): number => {
    const known = drifts.get(day)
    if (known !== undefined) return known
    const drift = 1 + (source.visitDriftPercent / 100) * scatter()
    drifts.set(day, drift)
    return drift
  }

  const meanMps = (tag: string, day: string): number => {
    const state = stateOf(tag)
    return state.designMps * state.setting * Math.exp(-state.loadPerYear * yearsBetween(state.since, day)) * driftOn(day)
  }

  return {
    advanceTo(day) {
      for (let next = events[0]; next && next.on <= day; next = events[0]) {
        events.shift()
        for (const tag of next.filters) {
          const state = stateOf(tag)
          if (next.set !== undefined) set(tag, next.set, next.on)
          if (next.times !== undefined) state.setting *= next.times
          if (next.tilt !== undefined) state.tilt = next.tilt
        }
      }
    },
    set,
    straighten(tag) {
      stateOf(tag).tilt = 0
    },
    meanMps,
    scatter,
    velocityMps(tag, point, day) {
      const state = stateOf(tag)
      const mean = meanMps(tag, day)
      const pattern = (state.pattern[point.index % state.pattern.length] ?? 1) + state.tilt * point.sideways
      return mean * pattern * (1 + (source.readingRepeatPercent / 100) * scatter())
    },
    slips() {
      readings += 1
      return readings % source.slipEvery === 0
    },
  }
}
