import type { z } from 'zod'
import type { Command } from '#core/api/base.ts'
import type { contract } from '#core/api/contract.ts'
import type { RunDetail } from '#core/api/runs.ts'
import { message } from '#core/messages/say.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { CommandName } from '#core/model/audit.ts'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { problem } from '../project-file/problem.ts'
import { checkWritten } from './body-rules.ts'
import { checkCarried } from './carried.ts'
import { releasesOf } from './certificates.ts'
import { commit, type Transaction } from './command.ts'
import { layOutPlaneAnew } from './run-points.ts'
import { asPlaced, layOut, pin, pinsOf, planeOf, scopeOf } from './run-scope.ts'
import type { Session } from './session.ts'
import { signaturesOf } from './signatures.ts'

export type Detail = z.infer<typeof RunDetail>
type StartInput = z.infer<NonNullable<(typeof contract.runs.start)['~orpc']['inputSchema']>>
export type OnRun = { readonly command: Command; readonly runId: string; readonly revision: number }

export function listRuns(session: Session, certificationId: string): Entity[] {
  const { rowId } = session.find('certification', certificationId)
  return session.stores.entities.list('run', { within: rowId }).map(({ entity }) => entity)
}

export function runDetail(session: Session, runId: string): Detail {
  const { stores } = session
  const run = session.find('run', runId)
  const pins = stores.runs.pins(run.rowId)
  const readings = stores.readings.ofRun(run.rowId).map(({ reading }) => reading)
  const since = releasesOf(session, run, pins, readings).map(({ entity }) => entity)
  const newer = new Set(since.map(({ id }) => id))
  const pinned = pins.filter(({ id }) => !newer.has(id))
  // A certificate made before the last reading counts once it is pinned: with the next reading, or when the pins are refreshed.
  const known = new Set([...pins.map(({ id }) => id), ...newer])
  const unpinned = pins
    .filter(({ kind }) => kind === 'instrument')
    .flatMap(({ id }) => session.certificates.of(id))
    .filter(({ entity }) => !known.has(entity.id))
  return {
    run: run.entity,
    pins: [
      ...pinned.map(
        ({ kind, id, parentId, revision, removed, body }) =>
          // Kind and body come from the same row.
          ({ kind, id, parentId, revision, removed, body }) as Entity,
      ),
      ...since,
    ],
    stale: [...pinned.filter((pin) => pin.latest !== pin.revision).map(({ id }) => id), ...unpinned.map(({ entity }) => entity.id)],
    locations: stores.runs.locations(run.rowId).map(({ location }) => location),
    readings,
    signatures: signaturesOf(session, run),
  }
}

export function startRun(session: Session, input: StartInput): Detail {
  const { command, id, certificationId, ...chosen } = input
  return commit(
    session,
    { command, name: 'run.start', scope: id },
    (transaction) => {
      beginRun(transaction, { id, certificationId, chosen, gridFor: new Map() })
      return runDetail(session, id)
    },
    () => runDetail(session, id),
  )
}

export type RunBeginning = {
  readonly id: string
  readonly certificationId: string
  readonly chosen: Omit<StartInput, 'command' | 'id' | 'certificationId' | 'planeGrid' | 'otherUnits'> &
    Partial<
      Pick<
        EntityBody<'run'>,
        'missing' | 'note' | 'planeGrid' | 'conditions' | 'instrumentConditions' | 'doorPressures' | 'acceptedMisfits' | 'otherUnits'
      >
    >
  readonly gridFor: ReadonlyMap<string, { rows: number; columns: number }>
}

/** Makes a run with its pins and points. */
export function beginRun(transaction: Transaction, { id, certificationId, chosen, gridFor }: RunBeginning): void {
  const { session } = transaction
  const certification = session.find('certification', certificationId, 'certificationId')
  if (session.stores.entities.rowOf(id) !== null) throw problem('conflict', message('error.conflict', { what: 'run' }))
  if (chosen.zoneId !== null) {
    const zone = session.find('zone', chosen.zoneId, 'zoneId')
    if (zone.entity.parentId !== chosen.roomId) {
      throw problem('invalid_input', message('error.reference_missing', { what: 'zone' }), { field: 'zoneId' })
    }
  }
  if (chosen.method === 'plane_velocity_grid' && chosen.zoneId === null)
    throw problem('invalid_input', message('error.plane_needs_zone', {}), { field: 'zoneId' })
  if (chosen.method === 'room_airflow' && chosen.zoneId !== null)
    throw problem('invalid_input', message('error.room_flow_needs_room', {}), { field: 'zoneId' })
  const scope = scopeOf(session, chosen)
  const body: EntityBody<'run'> = {
    conditions: { temperature: null, relativeHumidity: null, pressure: null },
    ...LATER_FIELDS.run,
    cautionsRead: [],
    missing: [],
    note: '',
    ...chosen,
    state: 'open',
  }
  checkWritten('run', body, 'run')
  const run = { rowId: transaction.create('run', id, certification, body), id, body }
  for (const { rowId, entity } of pinsOf(scope)) pin(transaction, run, { rowId, id: entity.id, revision: entity.revision }, null)
  const points = layOut(transaction, run, scope.terminals.map(asPlaced), gridFor, planeOf(body, scope.zones))
  if (points.length === 0) throw problem('refused', message('error.nothing_to_measure', {}), { field: 'roomId' })
  transaction.changes.push({ what: 'layout', runId: id, terminalIds: scope.terminals.map((t) => t.entity.id), before: [], after: points })
}

/** The run of a command, on the revision the page saw. */
function runAt(session: Session, input: OnRun): StoredEntity<'run'> {
  const run = session.find('run', input.runId, 'runId')
  if (run.entity.revision !== input.revision) throw problem('conflict', message('error.conflict', { what: 'run' }))
  return run
}

export function refuseUnlessOpen(run: StoredEntity<'run'>): void {
  const { state } = run.entity.body
  if (state === 'signed') throw problem('refused', message('error.run_signed', {}))
  if (state === 'complete') throw problem('refused', message('error.run_complete', {}))
}

export function onRun<T>(
  session: Session,
  name: CommandName,
  input: OnRun,
  perform: (transaction: Transaction, run: StoredEntity<'run'>) => void,
  answer: () => T,
): T {
  return commit(
    session,
    { command: input.command, name, scope: input.runId },
    (transaction) => {
      perform(transaction, runAt(session, input))
      return answer()
    },
    answer,
  )
}

export function setGrid(session: Session, input: OnRun & { terminalIds: string[]; rows: number; columns: number }): Detail {
  const { stores } = session
  return onRun(
    session,
    'run.grid',
    input,
    (transaction, run) => {
      refuseUnlessOpen(run)
      const wanted = new Set(input.terminalIds)
      const pinned = stores.runs.pins(run.rowId).filter((candidate) => candidate.kind === 'terminal' && wanted.has(candidate.id))
      if (pinned.length < wanted.size) {
        throw problem('not_found', message('error.not_found', { what: 'terminal' }), { field: 'terminalIds' })
      }
      const { wayAt } = methodOf(run.entity.body.method)
      // The kind was filtered above.
      if (pinned.some(({ body }) => wayAt(body as EntityBody<'terminal'>) !== 'face_grid')) {
        throw problem('refused', message('error.grid_of_faces', {}), { field: 'terminalIds' })
      }
      const before = stores.runs
        .locations(run.rowId)
        .filter(({ location }) => location.terminalId !== null && wanted.has(location.terminalId))
      const rows = new Set(before.map(({ rowId }) => rowId))
      if (stores.readings.inForce(run.rowId).some((reading) => rows.has(reading.locationRowId))) {
        throw problem('refused', message('error.grid_has_readings', {}), { field: 'terminalIds' })
      }
      for (const { location } of before) stores.runs.setRetired(run.rowId, location.number, true)
      const grid = { rows: input.rows, columns: input.columns }
      const after = layOut(
        transaction,
        { rowId: run.rowId, id: input.runId, body: run.entity.body },
        // The kind was filtered above.
        pinned.map(({ rowId, id, revision, body }) => ({ rowId, id, revision, body: body as EntityBody<'terminal'> })),
        new Map(input.terminalIds.map((id) => [id, grid])),
      )
      transaction.changes.push({
        what: 'layout',
        runId: input.runId,
        terminalIds: [...wanted],
        before: before.map(({ location }) => location),
        after,
      })
      // The run's own revision moves, so that a page that saw the old points cannot change them again.
      transaction.revise(run, run.entity.body)
    },
    () => runDetail(session, input.runId),
  )
}

export function readCautions(session: Session, input: OnRun & { cautions: string[] }): Entity {
  return onRun(
    session,
    'run.cautions',
    input,
    (transaction, run) => {
      refuseUnlessOpen(run)
      const { body } = run.entity
      const read = { personId: input.command.personId, at: transaction.at, cautions: input.cautions }
      transaction.revise(run, { ...body, cautionsRead: [...body.cautionsRead, read] })
    },
    () => session.find('run', input.runId).entity,
  )
}

type RunEdit = z.infer<NonNullable<(typeof contract.runs.edit)['~orpc']['inputSchema']>>

export function editRun(session: Session, input: RunEdit): Entity {
  return onRun(
    session,
    'run.edit',
    input,
    (transaction, run) => {
      const { state } = run.entity.body
      if (state === 'signed') throw problem('refused', message('error.run_signed', {}))
      if (state === 'complete' && input.command.reason.trim() === '') {
        throw problem('refused', message('error.reason_needed_complete', {}), { field: 'command.reason' })
      }
      // Fields that were not sent must not overwrite what stands there.
      const set = Object.fromEntries(Object.entries(input.set).filter(([, value]) => value !== undefined))
      const body = { ...run.entity.body, ...set }
      checkWritten('run', body, 'set')
      checkCarried(session, run, body)
      if (JSON.stringify(body.planeGrid) !== JSON.stringify(run.entity.body.planeGrid)) layOutPlaneAnew(transaction, run, body)
      transaction.revise(run, body)
    },
    () => session.find('run', input.runId).entity,
  )
}
