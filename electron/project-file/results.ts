import canonicalize from 'canonicalize'
import type { RunResult } from '#core/model/results.ts'
import { sha256Of } from './attachments.ts'
import type { ProjectFile } from './project-file.ts'

export type SignedResult = {
  readonly runRowId: number
  readonly entryId: number
  readonly calculationVersion: number
  readonly body: string
  readonly sha256: string
}

/** Frozen results of signed runs, and a cache of computed ones that may be deleted at any time. */
export function createResultStore(file: ProjectFile) {
  const { db } = file
  const signed = db
    .prepare<[number], [number, number, string, Uint8Array]>(
      'SELECT entry_id, calculation_version, body, sha256 FROM signed_result WHERE run_id = ? ORDER BY entry_id',
    )
    .raw()
  const signing = db.prepare<[number], number>('SELECT entry_id FROM signed_result WHERE run_id = ? ORDER BY entry_id').pluck()
  const insertSigned = db.prepare('INSERT INTO signed_result (run_id, entry_id, calculation_version, body, sha256) VALUES (?, ?, ?, ?, ?)')
  const cached = db
    .prepare<[number, string, number], string>(
      'SELECT body FROM result_cache WHERE run_id = ? AND input_revision = ? AND calculation_version = ?',
    )
    .pluck()
  const keep = db.prepare<[number, string, number, string]>(
    `INSERT INTO result_cache (run_id, input_revision, calculation_version, body) VALUES (?, ?, ?, ?)
     ON CONFLICT (run_id) DO UPDATE SET input_revision = excluded.input_revision, calculation_version = excluded.calculation_version,
       body = excluded.body`,
  )

  return {
    signedOf: (runRowId: number): SignedResult[] =>
      signed.all(runRowId).map(([entryId, calculationVersion, body, sha256]) => ({
        runRowId,
        entryId,
        calculationVersion,
        body,
        sha256: Buffer.from(sha256).toString('hex'),
      })),
    /** The entries by which a run was signed, without what they froze. */
    signingEntries: (runRowId: number): number[] => signing.all(runRowId),
    /** Freezes a result: canonical bytes and their hash. */
    freeze(runRowId: number, result: RunResult, entryId: number): { sha256: string } {
      const body = canonicalize(result) ?? '{}'
      const sha256 = sha256Of(body)
      insertSigned.run(runRowId, entryId, result.calculationVersion, body, Buffer.from(sha256, 'hex'))
      return { sha256 }
    },
    insertSigned(result: SignedResult): void {
      insertSigned.run(result.runRowId, result.entryId, result.calculationVersion, result.body, Buffer.from(result.sha256, 'hex'))
    },
    /** The cached text for exactly this input and calculation, or null. */
    cached: (ownerRowId: number, inputRevision: string, calculationVersion: number): string | null =>
      cached.get(ownerRowId, inputRevision, calculationVersion) ?? null,
    /** Keeps a computed result; silently does nothing in a file that is open for reading only. */
    keep(ownerRowId: number, inputRevision: string, calculationVersion: number, body: string): void {
      if (!file.readOnly) keep.run(ownerRowId, inputRevision, calculationVersion, body)
    },
  }
}
