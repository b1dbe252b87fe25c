import type { AuditChange } from '#core/model/audit.ts'
import { classify, ProblemError } from '../problem.ts'
import type { ProjectFile } from '../project-file.ts'
import { EntityCheck } from './entities.ts'
import { type CheckFinding, Findings } from './findings.ts'
import { FrozenCheck } from './frozen.ts'
import { ReadingCheck } from './readings.ts'
import { RunCheck } from './runs.ts'
import { checkStorage } from './storage.ts'
import { checkTrail } from './trail.ts'

export type CheckOptions = {
  /** told how far the check is, 0 to 1 */
  readonly progress?: (share: number) => void
  /** asked now and then; true ends the check, whose answer is then null */
  readonly cancelled?: () => boolean
}

const CANCELLED = Symbol('cancelled')
/** The storage pass is one call into SQLite; by its usual time it is this share of the whole. */
const STORAGE_SHARE = 0.1
const ROWS_PER_REPORT = 500

/**
 * Reads the whole project file and holds it against itself: storage, links, the audit trail's hashes, every revision, pin, point,
 * reading, signed result and attachment against the trail, every body against its schema. Changes nothing, so a worker thread can run it on a
 * connection of its own. One transaction, so that it sees one state while someone goes on recording.
 */
export function checkProject(file: ProjectFile, options: CheckOptions = {}): CheckFinding[] | null {
  const { db } = file
  const findings = new Findings()
  try {
    db.transaction(() => checkAll(file, findings, options)).deferred()
  } catch (error) {
    if (error === CANCELLED) return null
    const named = classify(error, file.path)
    if (!(named instanceof ProblemError) || named.failure.kind !== 'damaged_file' || !(error instanceof Error)) throw error
    // Where it cannot be read any further, that is the finding.
    findings.problem('check.storage_damaged', { detail: error.message })
  }
  return findings.all()
}

function checkAll(file: ProjectFile, findings: Findings, options: CheckOptions): void {
  const { db } = file
  const count = (table: 'audit_entry' | 'entity') => Number(db.prepare(`SELECT count(*) FROM ${table}`).pluck().get())
  stopIfAsked(options)
  checkStorage(db, findings)
  const total = count('audit_entry') + count('entity') + 1
  let done = 0
  const step = () => {
    done += 1
    if (done % ROWS_PER_REPORT !== 0) return
    options.progress?.(STORAGE_SHARE + (1 - STORAGE_SHARE) * (done / total))
    stopIfAsked(options)
  }
  options.progress?.(STORAGE_SHARE)
  const entities = new EntityCheck(db, findings)
  const runs = new RunCheck(file, findings)
  const readings = new ReadingCheck(db, findings)
  const frozen = new FrozenCheck(db, findings)
  const onChange = (change: AuditChange, entryId: number) => {
    if (change.what === 'entity') entities.change(change, entryId)
    else if (change.what === 'pin') runs.pinned(change)
    else if (change.what === 'layout') runs.laidOut(change)
    else if (change.what === 'reading') readings.recorded(change, entryId)
    else if (change.what === 'void') readings.voided(change, entryId)
    else if (change.what === 'readings') readings.imported(change, entryId)
    else if (change.what === 'voids') readings.voidedTogether(change, entryId)
    else if (change.what === 'results') frozen.results(change, entryId)
    else if (change.what === 'attachment') frozen.attachment(change, entryId)
  }
  checkTrail(db, findings, onChange, step)
  entities.finish(step)
  runs.finish()
  readings.finish()
  frozen.finish()
  stopIfAsked(options)
  options.progress?.(1)
}

function stopIfAsked(options: CheckOptions): void {
  if (options.cancelled?.()) throw CANCELLED
}
