import { PRESSURE_DOUBT_PERCENT } from '#core/air/standard-atmosphere.ts'
import type { UncertaintySettings } from '#core/model/criteria.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import type { Coverage } from '#core/uncertainty/budget.ts'
import { densityUncertainty } from '#core/uncertainty/density.ts'
import { GroupNumbers } from '#core/uncertainty/error-sums.ts'
import { HALF_WIDTH_DIVISOR } from '#core/uncertainty/term.ts'
import { airAtFilter, airAtInstrument, type KnownAir, type RunAir } from '../air-of-run.ts'
import type { Gathered } from '../gather.ts'
import { type UsedInstrument, usedInstruments } from './budget-instrument.ts'

/** What all the budgets of one run share: its correlated groups, its instruments, its air. */
export type BudgetBook = {
  readonly groups: GroupNumbers
  readonly instrumentOf: (use: Gathered['readings'][number]['use']) => UsedInstrument
  readonly air: RunAir
  /** relative standard uncertainty of the density of this air, by the half widths of the settings; 0 without conditions */
  readonly densityRelative: (settings: UncertaintySettings, air: RunAir) => number
  /** the same of the air at the instrument, where that was recorded separately */
  readonly instrumentDensityRelative: (settings: UncertaintySettings, air: RunAir) => number
  /** model of the filter in each terminal, where the run pinned one */
  readonly models: ReadonlyMap<Uuid, string>
  /** number of the group of a terminal's area; null where nobody shares its error */
  readonly areaGroupOf: (terminalId: Uuid, terminal: EntityBody<'terminal'>, halfWidthPercent: number) => number | null
}

/** The density of a run's air is one unknown error in every figure that was converted with it. */
export const DENSITY_GROUP = 'density of the air'

/**
 * The air at the instrument, where its conditions were recorded separately. Taken as independent of the air at the filter, though one
 * barometer may have served both: that errs on the safe side where the two densities partly cancel.
 */
export const INSTRUMENT_DENSITY_GROUP = 'density of the air at the instrument'

const RECTANGLE = HALF_WIDTH_DIVISOR.rectangular

/** Relative standard uncertainty of half a width given in percent. Source: GUM 4.3.7. */
export function relativeOf(halfWidthPercent: number): number {
  return halfWidthPercent / 100 / RECTANGLE
}

export function coverageOf({ coverage }: UncertaintySettings): Coverage {
  return coverage.kind === 'fixed' ? coverage : { kind: 'student', level: coverage.levelPercent / 100 }
}

/** Half the width of what is known of a pressure, Pa: one that nobody measured is as far off as the weather takes it. */
export function pressureHalfWidthPa(known: KnownAir, settings: UncertaintySettings): number {
  return known.pressureFrom === 'altitude' ? (PRESSURE_DOUBT_PERCENT / 100) * known.state.pressurePa : settings.pressurePa
}

type RelativeDensity = (settings: UncertaintySettings, air: RunAir) => number

/** Relative standard uncertainty of a density of each air, by settings, each worked out once. */
function relativeDensities(of: (air: RunAir) => KnownAir | null): RelativeDensity {
  const known = new Map<RunAir, Map<UncertaintySettings, number>>()
  return (settings, air) => {
    const densities = known.get(air) ?? new Map<UncertaintySettings, number>()
    known.set(air, densities)
    const before = densities.get(settings)
    if (before !== undefined) return before
    const { temperatureK, relativeHumidityPercent } = settings
    const at = of(air)
    const found =
      at &&
      densityUncertainty(at.state, {
        temperatureK: temperatureK / RECTANGLE,
        pressurePa: pressureHalfWidthPa(at, settings) / RECTANGLE,
        relativeHumidityPercent: relativeHumidityPercent / RECTANGLE,
      })
    const relative = found?.relative ?? 0
    densities.set(settings, relative)
    return relative
  }
}

/** Opens the book of a run. */
export function budgetBook(air: RunAir, models: ReadonlyMap<Uuid, string>): BudgetBook {
  const groups = new GroupNumbers()
  return {
    groups,
    instrumentOf: usedInstruments(groups),
    air,
    densityRelative: relativeDensities(airAtFilter),
    instrumentDensityRelative: relativeDensities(airAtInstrument),
    models,
    areaGroupOf: areaGroups(models, groups),
  }
}

/**
 * The error that the effective area of all filters of one model has in common: those of the same gross and effective size, of one model where
 * the elements name theirs, and with the same half width. An area of its own, such as a duct's, is nobody else's: null.
 */
export function areaGroup(
  terminalId: Uuid,
  terminal: EntityBody<'terminal'>,
  halfWidthPercent: number,
  models: ReadonlyMap<Uuid, string>,
): string | null {
  if (terminal.kind === 'duct_section') return null
  const { grossWidth, grossDepth, effectiveArea } = terminal
  const model = models.get(terminalId) ?? ''
  return `area ${grossWidth.si} ${grossDepth.si} ${effectiveArea.si} ${halfWidthPercent} ${model}`
}

/** Filters of one model mostly hang side by side: as long as nothing differs the group is the last one. */
function areaGroups(models: ReadonlyMap<Uuid, string>, groups: GroupNumbers): BudgetBook['areaGroupOf'] {
  let last: { width: number; depth: number; area: number; percent: number; model: string | undefined; group: number } | null = null
  return (terminalId, terminal, percent) => {
    if (terminal.kind === 'duct_section') return null
    const width = terminal.grossWidth.si
    const depth = terminal.grossDepth.si
    const area = terminal.effectiveArea.si
    const model = models.get(terminalId)
    if (last && last.width === width && last.depth === depth && last.area === area && last.percent === percent && last.model === model)
      return last.group
    const name = areaGroup(terminalId, terminal, percent, models)
    if (name === null) return null
    last = { width, depth, area, percent, model, group: groups.of(name) }
    return last.group
  }
}
