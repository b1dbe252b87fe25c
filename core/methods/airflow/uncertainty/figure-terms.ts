import type { BudgetFigure } from '#core/model/budgets.ts'
import type { UncertaintySettings } from '#core/model/criteria.ts'
import type { Basis, Dimension, Uuid } from '#core/model/values.ts'
import { roomVolumeM3 } from '#core/rooms/geometry.ts'
import { airChanges, sumOf, timesExact, type Uncertain } from '#core/uncertainty/room-terms.ts'
import { standardTerm, type Term } from '#core/uncertainty/term.ts'
import type { RunInput } from '../../method.ts'
import type { AreaFigures } from '../area-figures.ts'
import type { FilterFigures } from '../filter-figures.ts'
import { figuresOn, lackOn, mainOf } from '../on-bases.ts'
import { roomDesignFlow } from '../room-result.ts'
import type { SeenRoom } from '../seen-room.ts'
import { type BudgetBook, DENSITY_GROUP, relativeOf } from './budget-book.ts'
import { settingsOf } from './figure-uncertainty.ts'
import { offsetParts } from './offset-uncertainty.ts'
import { flowsOf, percentSensitivities, type SignedTerminal } from './run-errors.ts'
import { type TerminalTerms, terminalTerms } from './terminal-terms.ts'

/** A figure with the terms of its budget, and whose it is. */
export type FigureTerms = {
  readonly subject: string
  readonly dimension: Dimension
  readonly basis: Basis
  readonly settings: UncertaintySettings
  readonly result: Uncertain
}

/** What the terms of a run's figures are made from. */
export type TermsOfRun = { readonly input: RunInput; readonly seen: SeenRoom; readonly book: BudgetBook }

function termsOf({ input, book }: TermsOfRun, filter: FilterFigures, basis: Basis): TerminalTerms {
  return terminalTerms(filter, basis, settingsOf(input, filter.zoneId), book)
}

const DIMENSION: Readonly<Record<BudgetFigure, Dimension>> = {
  mean_velocity: 'velocity',
  flow: 'flow',
  percent_of_design: 'percent',
  air_changes: 'air_change_rate',
  outside_air_changes: 'air_change_rate',
  offset: 'flow',
  offset_percent: 'percent',
}

function ofDesign(result: Uncertain | null, design: number | null | undefined): Uncertain | null {
  return result && design ? timesExact(result, 100 / design) : null
}

function ofTerminal(run: TermsOfRun, terminal: SeenRoom['terminals'][number], figure: BudgetFigure): FigureTerms | null {
  const filter = mainOf(terminal)
  if (filter.closed) return null
  const { mean, flow } = termsOf(run, filter, terminal.main)
  const { design } = filter
  const byFlow = design.leads === 'flow' || filter.meanMps === null
  const found: Partial<Record<BudgetFigure, Uncertain | null>> = {
    mean_velocity: filter.meanMps === null ? null : mean,
    flow,
    percent_of_design: byFlow ? ofDesign(flow, design.flow?.si) : ofDesign(mean, design.velocity?.si),
  }
  const result = found[figure]
  const settings = settingsOf(run.input, filter.zoneId)
  const { tag } = filter.of.terminal.body
  return result ? { subject: tag, dimension: DIMENSION[figure], basis: terminal.main, settings, result } : null
}

/** Velocity through all the faces, their areas taken as exact weights. */
function areaMean(run: TermsOfRun, area: AreaFigures, basis: Basis): Uncertain | null {
  const areaM2 = area.filters.reduce((sum, filter) => sum + filter.areaM2, 0)
  if (area.meanMps === null || !(areaM2 > 0)) return null
  return sumOf(
    area.filters.map((filter) => {
      const { mean } = termsOf(run, filter, basis)
      return { sign: 1, result: mean && timesExact(mean, filter.areaM2 / areaM2) }
    }),
  )
}

function flowSum(run: TermsOfRun, parts: readonly SignedTerminal[], basis: Basis, sensitivity: (part: SignedTerminal) => number) {
  return sumOf(
    parts.map((part) => {
      const { flow } = termsOf(run, part.filter, basis)
      return { sign: 1, result: flow && timesExact(flow, sensitivity(part)) }
    }),
  )
}

function supplied(run: TermsOfRun, area: AreaFigures, basis: Basis): Uncertain | null {
  if (area.flowM3ps === null) return null
  return flowSum(
    run,
    area.filters.map((filter) => ({ filter, sign: 1 })),
    basis,
    () => 1,
  )
}

function perHour(run: TermsOfRun, filters: readonly FilterFigures[], basis: Basis): Uncertain | null {
  const { room } = run.input
  const flow = flowSum(
    run,
    filters.map((filter) => ({ filter, sign: 1 })),
    basis,
    () => 1,
  )
  const percent = room.body.volumeUncertaintyPercent ?? settingsOf(run.input, null).volumePercent
  const volume = { size: roomVolumeM3(room.body), relativeUncertainty: relativeOf(percent), group: null }
  return flow && filters.length > 0 ? airChanges(flow, volume, room.id) : null
}

/** Of the density that actual flows are multiplied by, terminal by terminal: carried ones were measured in another air. */
function densityOf({ book }: TermsOfRun, parts: readonly SignedTerminal[], settings: UncertaintySettings): Term[] {
  return parts.map(({ filter: { of, flowM3ps }, sign }) => ({
    ...standardTerm('density', of.terminal.id, book.densityRelative(settings, of.air), Number.POSITIVE_INFINITY, DENSITY_GROUP),
    sensitivity: sign * (flowM3ps ?? 0),
  }))
}

/** Air changes from outside the room; a zero that is certain where nothing comes from there. */
function outsidePerHour(run: TermsOfRun, filters: readonly FilterFigures[], basis: Basis): Uncertain | null {
  return filters.length === 0 ? { value: 0, terms: [] } : perHour(run, filters, basis)
}

function offsetOf(run: TermsOfRun, as: 'offset' | 'offset_percent'): { basis: Basis; result: Uncertain } | null {
  const { balance } = run.seen
  if (!balance) return null
  const basis = balance.mass ? 'standard' : 'as_indicated'
  const offset = offsetParts(balance, basis)
  if (!offset) return null
  const { parts, scale, scaledByDensity } = offset
  if (as === 'offset_percent') {
    const sensitivity = percentSensitivities(parts)
    const sum = sensitivity && flowSum(run, parts, offset.basis, sensitivity)
    const { supplyM3ps, offsetM3ps } = flowsOf(parts)
    return sum && { basis, result: { value: (100 * offsetM3ps) / supplyM3ps, terms: sum.terms } }
  }
  const sum = flowSum(run, parts, offset.basis, ({ sign }) => sign)
  if (!sum) return null
  const settings = settingsOf(run.input, null)
  const terms = scaledByDensity ? [...sum.terms, ...densityOf(run, parts, settings)] : sum.terms
  return { basis, result: timesExact({ value: sum.value, terms }, scale) }
}

function ofRoom(run: TermsOfRun, figure: BudgetFigure): { basis: Basis; result: Uncertain } | null {
  const { seen, input } = run
  if (input.run.zoneId !== null) return null
  if (figure === 'offset' || figure === 'offset_percent') return offsetOf(run, figure)
  const basis = seen.supply.main === 'actual' && lackOn(seen.faces, 'actual') === null ? 'actual' : 'as_indicated'
  const supply = figuresOn(seen.supply, basis) ?? seen.supply.as_indicated
  const faces = figuresOn(seen.faces, basis) ?? seen.faces.as_indicated
  const result = () => {
    switch (figure) {
      case 'mean_velocity':
        return areaMean(run, faces, basis)
      case 'flow':
        return supplied(run, supply, basis)
      case 'percent_of_design':
        return ofDesign(supplied(run, supply, basis), roomDesignFlow({ body: input.room.body, ...seen }, roomVolumeM3(input.room.body))?.si)
      case 'air_changes':
        return supply.flowM3ps === null ? null : perHour(run, supply.filters, basis)
      case 'outside_air_changes':
        return supply.flowM3ps === null
          ? null
          : outsidePerHour(
              run,
              supply.filters.filter(({ of }) => of.terminal.body.airSource === 'air_handler'),
              basis,
            )
    }
  }
  const found = result()
  return found && { basis, result: found }
}

/**
 * The terms of a figure of a terminal, a zone (its mean velocity) or the room, on the basis that the result shows it on. Null where the run has no such
 * figure, or no uncertainty can be given for it.
 */
export function figureTerms(run: TermsOfRun, subjectId: Uuid, figure: BudgetFigure): FigureTerms | null {
  const { seen, input } = run
  const terminal = seen.terminals.find(({ as_indicated: { of } }) => of.terminal.id === subjectId)
  if (terminal) return ofTerminal(run, terminal, figure)
  const settings = settingsOf(input, null)
  if (subjectId === input.room.id) {
    const found = ofRoom(run, figure)
    return found && { subject: input.room.body.number, dimension: DIMENSION[figure], settings, ...found }
  }
  const zone = seen.zones.find(({ id }) => id === subjectId)
  if (!zone || figure !== 'mean_velocity') return null
  const basis = zone.area.main
  const result = areaMean(run, mainOf(zone.area), basis)
  return result && { subject: zone.name, dimension: 'velocity', basis, settings: zone.settings, result }
}
