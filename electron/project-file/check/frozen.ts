import type { Database } from 'better-sqlite3'
import type { AuditChange } from '#core/model/audit.ts'
import { sha256 } from '../canonical.ts'
import { uuidText } from '../uuid-bytes.ts'
import type { Findings } from './findings.ts'

type ResultsChange = Extract<AuditChange, { what: 'results' }>
type AttachmentChange = Extract<AuditChange, { what: 'attachment' }>

/** Signed results and attachments: stored bytes against their hash, and the hash against the trail. */
export class FrozenCheck {
  readonly #db: Database
  readonly #findings: Findings
  readonly #signed = new Map<string, string>()
  readonly #attached = new Map<string, string>()

  constructor(db: Database, findings: Findings) {
    this.#db = db
    this.#findings = findings
  }

  results(change: ResultsChange, entryId: number): void {
    this.#signed.set(`${change.runId} ${entryId}`, change.sha256)
  }

  attachment(change: AttachmentChange, entryId: number): void {
    this.#attached.set(change.id, frozenForm(change.sha256, change.name, change.bytes, change.ownerId, entryId))
  }

  finish(): void {
    this.#checkResults()
    this.#checkAttachments()
  }

  #checkResults(): void {
    const before = this.#findings.problems
    const seen = new Set<string>()
    const rows = this.#db
      .prepare<[], { run: Buffer; entry_id: number; version: number; body: string; sha256: Buffer }>(
        'SELECT u.uuid AS run, s.entry_id, s.calculation_version AS version, s.body, s.sha256 FROM signed_result s JOIN entity u ON u.id = s.run_id',
      )
      .iterate()
    for (const row of rows) {
      const runId = uuidText(row.run)
      const key = `${runId} ${row.entry_id}`
      seen.add(key)
      const asSigned = sha256(row.body).equals(row.sha256) && this.#signed.get(key) === row.sha256.toString('hex')
      const sound = asSigned && versionIn(row.body) === row.version
      if (!sound) this.#findings.problem('check.result_changed', { runId })
    }
    for (const key of this.#signed.keys()) {
      if (!seen.has(key)) this.#findings.problem('check.result_changed', { runId: key.slice(0, 36) })
    }
    if (this.#findings.problems === before) this.#findings.ok('check.results_ok', { results: seen.size })
  }

  #checkAttachments(): void {
    const before = this.#findings.problems
    const chunks = this.#db.prepare<[Buffer], Buffer>('SELECT data FROM attachment_chunk WHERE sha256 = ? ORDER BY number').pluck()
    const rows = this.#db
      .prepare<[], { uuid: Buffer; sha256: Buffer; name: string; bytes: number; owner: Buffer; entry_id: number }>(
        'SELECT a.uuid, a.sha256, a.name, a.bytes, o.uuid AS owner, a.entry_id FROM attachment a JOIN entity o ON o.id = a.owner_id',
      )
      .all()
    for (const row of rows) {
      const content = chunks.all(row.sha256)
      const bytes = content.reduce((sum, chunk) => sum + chunk.length, 0)
      const recorded = frozenForm(row.sha256.toString('hex'), row.name, row.bytes, uuidText(row.owner), row.entry_id)
      const sound =
        content.length > 0 &&
        bytes === row.bytes &&
        sha256(...content).equals(row.sha256) &&
        this.#attached.get(uuidText(row.uuid)) === recorded
      if (!sound) this.#findings.problem('check.attachment_changed', { name: row.name })
      this.#attached.delete(uuidText(row.uuid))
    }
    for (const id of this.#attached.keys()) this.#findings.problem('check.attachment_changed', { name: id })
    if (this.#findings.problems === before) this.#findings.ok('check.attachments_ok', { attachments: rows.length })
  }
}

/** The calculation by which a result was made, as the frozen bytes say it. */
function versionIn(body: string): unknown {
  const read: unknown = JSON.parse(body)
  return typeof read === 'object' && read !== null && 'calculationVersion' in read ? read.calculationVersion : null
}

function frozenForm(hash: string, name: string, bytes: number, ownerId: string, entryId: number): string {
  return JSON.stringify([hash, name, bytes, ownerId, entryId])
}
