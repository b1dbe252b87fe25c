import { type Signature, SignatureMeaning } from '#core/model/results.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import type { Session } from './session.ts'

/** Who signed a run, when, and what each signature means, as the trail has it; in the order of signing. */
export function signaturesOf(session: Session, run: StoredEntity<'run'>): Signature[] {
  if (run.entity.body.state !== 'signed') return []
  return session.stores.results.signingEntries(run.rowId).flatMap((entryId) => {
    const entry = session.stores.trail.find(entryId)?.entry
    return (entry?.changes ?? []).flatMap((change) =>
      entry && change.what === 'results' && change.runId === run.entity.id
        ? [{ personId: entry.personId, at: entry.at, meaning: SignatureMeaning.parse(change.meaning) }]
        : [],
    )
  })
}
