import type { BudgetFigure, BudgetLine, BudgetTerm, FigureBudget } from '#core/model/budgets.ts'
import type { Uuid } from '#core/model/values.ts'
import { type Component, combine } from '#core/uncertainty/budget.ts'
import { contributionOf, type Term } from '#core/uncertainty/term.ts'
import type { RunInput } from '../../method.ts'
import { FACE_GRID_SCOPE } from '../face-velocity-grid.ts'
import { asOneFace } from '../plane-face.ts'
import { ROOM_SCOPE } from '../room-airflow.ts'
import { type SeenRoom, seeRoom } from '../seen-room.ts'
import { budgetBook, coverageOf } from './budget-book.ts'
import { type FigureTerms, figureTerms, type TermsOfRun } from './figure-terms.ts'
import { originsOf, subjectOf } from './term-origin.ts'

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null
}

function lineTerm(term: Term, run: TermsOfRun): BudgetTerm {
  const { value, distribution, divisor, sensitivity, degreesOfFreedom } = term
  const contribution = contributionOf(term)
  const { name, at } = subjectOf(term, run)
  return {
    subject: name,
    at,
    value,
    distribution,
    divisor,
    sensitivity,
    contribution,
    degreesOfFreedom: finite(degreesOfFreedom),
  }
}

function lineOf(components: readonly Component[], run: TermsOfRun, of: FigureTerms): BudgetLine | null {
  const terms = components.flatMap((component) => component.terms)
  const [first] = terms
  if (!first) return null
  const [only, ...more] = components
  const square = components.reduce((sum, { contribution }) => sum + contribution ** 2, 0)
  return {
    source: first.source,
    correlated: first.group !== null,
    contribution: Math.sqrt(square),
    sharePercent: components.reduce((sum, { sharePercent }) => sum + sharePercent, 0),
    degreesOfFreedom: only && more.length === 0 ? finite(only.degreesOfFreedom) : null,
    terms: terms.map((term) => lineTerm(term, run)),
    origin: originsOf(terms, run, of.settings),
  }
}

/** One line for each correlated group, and one for all independent terms of a kind. */
function linesOf(components: readonly Component[], run: TermsOfRun, of: FigureTerms): BudgetLine[] {
  const together = new Map<string, Component[]>()
  for (const component of components) {
    const key = component.group ?? `independent ${component.terms[0]?.source ?? ''}`
    const list = together.get(key)
    if (list) list.push(component)
    else together.set(key, [component])
  }
  const lines = [...together.values()].flatMap((members) => lineOf(members, run, of) ?? [])
  return lines.filter(({ contribution }) => contribution > 0).sort((one, other) => other.contribution - one.contribution)
}

/** A plane is seen as the one face that stands for it. */
function seen(input: RunInput): { input: RunInput; room: SeenRoom } {
  if (input.run.method === 'room_airflow') return { input, room: seeRoom(input, ROOM_SCOPE) }
  const zone = input.run.method === 'plane_velocity_grid' ? input.zones.find(({ id }) => id === input.run.zoneId) : undefined
  if (!zone) return { input, room: seeRoom(input, FACE_GRID_SCOPE) }
  const plane = asOneFace(input, zone).input
  return { input: plane, room: seeRoom(plane, FACE_GRID_SCOPE) }
}

/**
 * The uncertainty budget of a figure of a run, line by line, SI: of a terminal, a zone's mean velocity, or the room; on the basis that the result
 * shows the figure on. Worked out from the readings when it is asked for; its U is the one that results keep. Null where the run has no such
 * figure, or nothing states how wrong its instruments may be, or one point alone stands for a face. Source: GUM (JCGM 100:2008).
 */
export function budgetOf(given: RunInput, subjectId: Uuid, figure: BudgetFigure): FigureBudget | null {
  const { input, room } = seen(given)
  const run: TermsOfRun = { input, seen: room, book: budgetBook(room.air, input.filterModels ?? new Map()) }
  const of = figureTerms(run, subjectId, figure)
  if (!of) return null
  const { value, terms } = of.result
  const budget = combine(value, terms, coverageOf(of.settings))
  return {
    subjectId,
    subject: of.subject,
    figure,
    dimension: of.dimension,
    basis: of.basis,
    value,
    lines: linesOf(budget.components, run, of),
    combined: budget.combined,
    effectiveDegreesOfFreedom: finite(budget.effectiveDegreesOfFreedom),
    usedDegreesOfFreedom: finite(budget.usedDegreesOfFreedom),
    coverage: of.settings.coverage,
    coverageFactor: budget.coverageFactor,
    expanded: budget.expanded,
  }
}
