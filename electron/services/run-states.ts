import { missingFilters } from '#core/history/outstanding.ts'
import { message } from '#core/messages/say.ts'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import type { SignatureMeaning } from '#core/model/results.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { problem } from '../project-file/problem.ts'
import { releasesOf } from './certificates.ts'
import type { Transaction } from './command.ts'
import { computeRun, signedResultOf } from './run-results.ts'
import { pin } from './run-scope.ts'
import { type OnRun, onRun } from './runs.ts'
import type { Session } from './session.ts'
import { signaturesOf } from './signatures.ts'

function toState(transaction: Transaction, run: StoredEntity<'run'>, state: EntityBody<'run'>['state']): void {
  transaction.revise(run, { ...run.entity.body, state })
}

/** Ends the measuring. Filters with points left out must have a reason. */
export function completeRun(session: Session, input: OnRun): Entity {
  return onRun(
    session,
    'run.complete',
    input,
    (transaction, run) => {
      if (run.entity.body.state === 'signed') throw problem('refused', message('error.run_signed', {}))
      if (run.entity.body.state === 'complete') throw problem('conflict', message('error.conflict', { what: 'run' }))
      const { filters, zones } = computeRun(session, run)
      const open = missingFilters(filters, run.entity.body.missing)
      if (open.length > 0) {
        const tags = open.slice(0, 5).map((filter) => filter.tag)
        const shown = open.length > tags.length ? `${tags.join(', ')} …` : tags.join(', ')
        throw problem('refused', message('error.reason_needed_missing', { tags: shown, filters: open.length }), { field: 'missing' })
      }
      const [plane] = filters.length === 0 ? zones : []
      if (plane && plane.pointsMeasured < plane.pointsPlanned && run.entity.body.missing.length === 0) {
        const points = { measured: plane.pointsMeasured, planned: plane.pointsPlanned }
        throw problem('refused', message('error.reason_needed_plane', points), { field: 'missing' })
      }
      toState(transaction, run, 'complete')
    },
    () => session.find('run', input.runId).entity,
  )
}

export function reopenRun(session: Session, input: OnRun): Entity {
  return onRun(
    session,
    'run.reopen',
    input,
    (transaction, run) => {
      if (run.entity.body.state === 'signed') throw problem('refused', message('error.run_signed', {}))
      if (run.entity.body.state === 'open') throw problem('conflict', message('error.conflict', { what: 'run' }))
      if (input.command.reason.trim() === '') {
        throw problem('refused', message('error.reason_needed_complete', {}), { field: 'command.reason' })
      }
      toState(transaction, run, 'open')
    },
    () => session.find('run', input.runId).entity,
  )
}

/** Signs a complete run. The first signature freezes its results; later ones stand under the very same rows. */
export function signRun(session: Session, input: OnRun & { meaning: SignatureMeaning }): Entity {
  return onRun(
    session,
    'run.sign',
    input,
    (transaction, run) => {
      if (run.entity.body.state === 'open') throw problem('refused', message('error.run_open', {}))
      const signed = signaturesOf(session, run)
      if (signed.some(({ personId, meaning }) => personId === input.command.personId && meaning === input.meaning))
        throw problem('refused', message('error.already_signed', {}))
      const result = signedResultOf(session, run) ?? computeRun(session, run)
      pinReleases(transaction, run)
      toState(transaction, run, 'signed')
      const { sha256 } = session.stores.results.freeze(run.rowId, result, transaction.entryId)
      const rows = result.filters.length + result.zones.length + 1
      transaction.changes.push({ what: 'results', runId: input.runId, sha256, rows, meaning: input.meaning })
    },
    () => session.find('run', input.runId).entity,
  )
}

/** What released readings of a run is part of its evidence: pinned when it is signed, so that later certificates change nothing. */
function pinReleases(transaction: Transaction, stored: StoredEntity<'run'>): void {
  const { session } = transaction
  const run = { rowId: stored.rowId, id: stored.entity.id }
  const pins = session.stores.runs.pins(run.rowId)
  const readings = session.stores.readings.inForce(run.rowId).map(({ reading }) => reading)
  const pinned = new Map(pins.map(({ rowId, revision }) => [rowId, revision]))
  for (const { rowId, entity } of releasesOf(session, stored, pins, readings)) {
    pin(transaction, run, { rowId, id: entity.id, revision: entity.revision }, pinned.get(rowId) ?? null)
  }
}
