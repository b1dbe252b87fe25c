import type { ImportOrder } from '#core/api/imports.ts'
import type { ImportRun, ImportTarget } from '#core/imports/target.ts'
import { message } from '#core/messages/say.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { DIMENSION_OF_QUANTITY } from '#core/model/rule-problem.ts'
import type { Quantity, Unit } from '#core/model/values.ts'
import type { StoredEntity } from '../../project-file/entities.ts'
import { problem } from '../../project-file/problem.ts'
import type { Session } from '../session.ts'

/** A run that readings go into, as it stood when the file was read. */
export type TargetRun = {
  readonly runId: string
  readonly rowId: number
  /** what the trail said of it last: anything later means that somebody worked in it meanwhile */
  readonly mark: number
  readonly pointRows: readonly number[]
  readonly pointNumbers: readonly number[]
  readonly quantities: readonly Quantity[]
}
export type TargetInstrument = { readonly id: string; readonly rowId: number; readonly revision: number }

/** Everything that an import is held against and written with, of one state of the file. */
export type GatheredTarget = {
  readonly target: ImportTarget
  readonly runs: readonly TargetRun[]
  readonly instruments: readonly TargetInstrument[]
  readonly ownerId: string
  readonly tagOf: (run: number, terminalId: string | null) => string | null
}

export function gatherTarget(session: Session, order: ImportOrder, nowMs: number): GatheredTarget {
  return session.stores.reading(() => gather(session, order, nowMs))
}

function gather(session: Session, order: ImportOrder, nowMs: number): GatheredTarget {
  const { into, mapping } = order
  const runs = into.kind === 'run' ? [openRun(session, into.runId)] : openRuns(session, into.certificationId)
  if (runs.length === 0) throw problem('refused', message('import.no_open_run', {}))
  if (into.kind === 'certification' && mapping.columns.terminal === null) {
    throw problem('invalid_input', message('import.tag_needed', {}), { field: 'mapping.columns.terminal' })
  }
  const instruments = session.stores.entities.list('instrument').filter(({ entity }) => entity.body.active)
  const chosen = instruments.findIndex(({ entity }) => entity.id === order.instrumentId)
  if (order.instrumentId !== null && chosen < 0)
    session.contexts.instrument(session.contexts.of(runs[0]?.entity.id ?? ''), order.instrumentId)
  const views = runs.map((run) => viewOf(session, run, instruments))
  return {
    target: {
      runs: views.map(({ view }) => view),
      serials: instruments.map(({ entity }) => entity.body.serialNumber),
      instrument: order.instrumentId === null ? null : chosen,
      timeZone: session.timeZone,
      nowMs,
      localDateOf: (atMs) => session.localDates.of(atMs),
      firstPoint: into.kind === 'run' ? into.firstPoint : null,
    },
    runs: views.map(({ run }) => run),
    instruments: instruments.map(({ rowId, entity }) => ({ id: entity.id, rowId, revision: entity.revision })),
    ownerId: into.kind === 'run' ? into.runId : into.certificationId,
    tagOf: (run, terminalId) => (terminalId === null ? null : (views[run]?.view.tags.get(terminalId) ?? null)),
  }
}

function openRun(session: Session, runId: string): StoredEntity<'run'> {
  const run = session.find('run', runId, 'into.runId')
  if (run.entity.body.state === 'signed') throw problem('refused', message('error.run_signed', {}))
  if (run.entity.body.state === 'complete') throw problem('refused', message('error.run_complete', {}))
  return run
}

function openRuns(session: Session, certificationId: string): StoredEntity<'run'>[] {
  const { rowId } = session.find('certification', certificationId, 'into.certificationId')
  return session.stores.entities.list('run', { within: rowId }).filter(({ entity }) => entity.body.state === 'open')
}

function viewOf(
  session: Session,
  run: StoredEntity<'run'>,
  instruments: readonly StoredEntity<'instrument'>[],
): { view: ImportRun; run: TargetRun } {
  const { stores } = session
  const runId = run.entity.id
  const context = session.contexts.of(runId)
  const terminals = new Map<string, EntityBody<'terminal'>>()
  // A pin's kind and body come from the same row.
  for (const pin of stores.runs.pins(run.rowId)) if (pin.kind === 'terminal') terminals.set(pin.id, pin.body as EntityBody<'terminal'>)
  const known = [...context.points.values()].sort((a, b) => a.location.number - b.location.number)
  return {
    view: {
      runId,
      points: known,
      samplesPerPoint: context.body.samplesPerPoint,
      averagingTimeS: context.body.averagingTimeS,
      leastAveragingTimeS: context.leastAveragingTimeS,
      unitOf: unitsOf(session, context.body),
      tags: new Map([...terminals].map(([id, body]) => [id, body.tag])),
      carried: new Set(context.body.carried.flatMap(({ terminalIds }) => terminalIds)),
      instruments: instruments.map(({ entity }) => {
        const { body, calibrations } = session.contexts.instrument(context, entity.id)
        return { id: entity.id, body, calibrations: calibrations.map((calibration) => calibration.body) }
      }),
      standing: [...context.inForce.values()].map(({ reading }) => ({ point: reading.point, sample: reading.sample, si: reading.si })),
    },
    run: {
      runId,
      rowId: run.rowId,
      mark: stores.trail.lastInScope(runId),
      pointRows: known.map(({ rowId }) => rowId),
      pointNumbers: known.map(({ location }) => location.number),
      quantities: known.map(({ quantity }) => quantity),
    },
  }
}

/** Units of values that name none: as the run is logged, and for what it does not say as the project shows it. */
export function unitsOf(session: Session, run: EntityBody<'run'>): (quantity: Quantity) => Unit | null {
  const [project] = session.stores.entities.list('project')
  const display = project?.entity.body.display
  return (quantity) => {
    switch (DIMENSION_OF_QUANTITY[quantity]) {
      case 'velocity':
        return run.unit
      case 'flow':
        return run.otherUnits?.flow ?? display?.flow ?? null
      case 'pressure':
        return run.otherUnits?.pressure ?? display?.pressure ?? null
      default:
        return null
    }
  }
}
