import { deviation, flowOf, isSupply, mean, planeIn, sum, type TerminalFigures, terminalsIn } from './figures.ts'
import { type Criterion, type RunInForm, si } from './form.ts'
import type { Judged, RunSaid } from './said.ts'
import { added, type Errors, expanded, flowErrors, withVolume } from './uncertainty.ts'
import { type Held, limitsOf, pointsVerdict, verdictOf } from './verdicts.ts'

type Find = (runId: string) => RunInForm

export const known = (values: readonly number[]): number | null => (values.length === 0 ? null : mean(values))

export function designFlowOf({ body }: TerminalFigures): number | null {
  if (body.designFlow) return si(body.designFlow)
  return body.designVelocity ? si(body.designVelocity) * si(body.effectiveArea) : null
}

export function areaMean(filters: readonly TerminalFigures[]): number | null {
  if (filters.length === 0 || filters.some(({ actual }) => actual.length === 0)) return null
  return sum(filters.map((filter) => mean(filter.actual) * filter.areaM2)) / sum(filters.map(({ areaM2 }) => areaM2))
}

/** Errors of everything in a run that has a figure. */
export function errorsOf(run: RunSaid, find: Find, of: (terminal: TerminalFigures, setting: Parameters<typeof flowErrors>[1]) => Errors) {
  const form = find(run.runId)
  const { terminals, instruments } = terminalsIn(form, find)
  const models = new Map(form.of('filter_element').map(({ parentId, body }) => [parentId, body.model]))
  const sets = new Map(form.of('criteria_set').map(({ id, body }) => [id, body]))
  const zones = new Map(form.of('zone').map(({ id, body }) => [id, body]))
  const room = form.of('room')[0]?.body
  const settingsFor = (zoneId: string | null) => {
    const set = sets.get((zoneId === null ? room : zones.get(zoneId))?.criteriaSetId ?? '')
    if (!set) throw new Error('a run without criteria')
    return set.uncertainty
  }
  const settings = settingsFor(null)
  const errors = new Map(
    terminals
      .filter(({ actual }) => actual.length > 0)
      .map((terminal) => {
        const setting = {
          settings: settingsFor(terminal.body.zoneId),
          instruments,
          modelOf: (id: string) => models.get(id) ?? '',
        }
        return [terminal.id, of(terminal, setting)]
      }),
  )
  return { terminals, errors, settings, room }
}

export type Answer = { readonly what: string; readonly given: string; readonly expected: string }

/** Holds everything that applies in a run against its criteria, beside what the evaluation said. */
export function judge(run: RunSaid, find: Find): Answer[] {
  const form = find(run.runId)
  const { terminals, errors, settings, room } = errorsOf(run, find, flowErrors)
  const sets = form.of('criteria_set')
  const defined = (key: string): { criterion: Criterion; rule: { kind: string; multiple?: number } } => {
    for (const { body } of sets) {
      const criterion = body.criteria.find((one) => one.key === key)
      if (criterion) return { criterion, rule: body.decisionRule }
    }
    throw new Error(`no criterion ${key}`)
  }
  const supply = terminals.filter(isSupply)
  const complete = (some: readonly TerminalFigures[]) => some.every(({ actual, planned }) => actual.length === planned)
  const plane = form.body.method === 'plane_velocity_grid' ? planeIn(form) : null
  const inZone = (zoneId: string | null) =>
    plane ? [] : supply.filter(({ body }) => body.zoneId === zoneId || zoneId === form.body.roomId)
  const zoneOf = (id: string) => {
    const inside = inZone(id)
    const points = plane ? plane.actual : inside.flatMap(({ actual }) => actual)
    return { mean: plane ? known(plane.actual) : areaMean(inside), points, complete: plane ? complete([plane]) : complete(inside) }
  }
  const expandedOf = (of: Errors | undefined): number | null => (of ? expanded(of, settings.coverage.levelPercent).U : null)
  const answers: Answer[] = []
  const hold = (judged: Judged, held: Held) => {
    const { criterion, rule } = defined(judged.key)
    const isSpread = criterion.form.kind === 'spread_at_most'
    const guard = rule.kind === 'guarded' && !isSpread ? (rule.multiple ?? 0) * (held.U ?? Number.NaN) : 0
    return verdictOf(held, limitsOf(criterion, held, room?.requiredAirChangesPerHour ?? null), guard)
  }
  const check = (judged: Judged, where: string, answer: () => string) => {
    if (judged.verdict === 'not_applicable') return
    answers.push({ what: `${where} ${judged.key}`, given: judged.verdict, expected: answer() })
  }
  for (const filter of run.filters) {
    const terminal = terminals.find(({ id }) => id === filter.terminalId)
    if (!terminal) throw new Error(`${filter.tag} is not in the form`)
    const whole = complete([terminal])
    for (const judged of filter.criteria)
      check(judged, filter.tag, () => {
        const { criterion } = defined(judged.key)
        if (criterion.form.kind === 'each_within_percent_of_mean') {
          const zone = zoneOf(terminal.body.zoneId ?? form.body.roomId)
          return pointsVerdict(terminal.actual, zone.mean, criterion.form.percent ?? 0, zone.complete)
        }
        const value = known(terminal.actual)
        if (criterion.quantity === 'flow')
          return hold(judged, {
            value: value === null ? null : flowOf(terminal, terminal.actual),
            design: designFlowOf(terminal),
            U: expandedOf(errors.get(terminal.id)),
            complete: whole,
          })
        const design = terminal.body.designVelocity
        return hold(judged, { value, design: design && si(design), U: null, complete: whole })
      })
  }
  for (const zone of run.zones) {
    const own = zoneOf(plane ? (form.body.zoneId ?? '') : zone.zoneId)
    const design = form.of('zone').find(({ id }) => id === zone.zoneId)?.body.designVelocity ?? room?.designVelocity ?? null
    for (const judged of zone.criteria)
      check(judged, 'area', () => {
        const { criterion } = defined(judged.key)
        const { form: asked, quantity } = criterion
        if (asked.kind === 'each_within_percent_of_mean') return pointsVerdict(own.points, own.mean, asked.percent ?? 0, own.complete)
        const spread = own.mean === null ? null : (100 * deviation(own.points)) / own.mean
        const value = quantity === 'velocity_spread' ? spread : own.mean
        return hold(judged, { value, design: design && si(design), U: null, complete: own.complete })
      })
  }
  const total = added(supply.flatMap(({ id }) => errors.get(id) ?? []))
  for (const judged of run.roomCriteria)
    check(judged, 'room', () => {
      const { supplyFlowM3ps, airChangesPerHour, volumeM3: volume } = run.room
      const whole = complete(supply)
      if (supplyFlowM3ps === null || airChangesPerHour === null) return 'not_tested'
      if (defined(judged.key).criterion.quantity === 'air_changes')
        return hold(judged, {
          value: airChangesPerHour,
          design: null,
          U: expandedOf(withVolume(total, volume, airChangesPerHour, settings)),
          complete: whole,
        })
      const perHour = room?.designAirChangesPerHour
      const design = perHour == null ? sum(supply.map((filter) => designFlowOf(filter) ?? Number.NaN)) : (perHour * volume) / 3600
      return hold(judged, { value: supplyFlowM3ps, design, U: expandedOf(total), complete: whole })
    })
  return answers
}
