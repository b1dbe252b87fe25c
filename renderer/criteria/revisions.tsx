import { useQuery } from '@tanstack/react-query'
import type { CriteriaSet } from '#core/model/criteria.ts'
import type { Uuid } from '#core/model/values.ts'
import { orpc } from '../app/client.ts'
import { useSay, useSentence, useSession } from '../app/session.tsx'
import { Busy } from '../ui/busy.tsx'
import { Panel } from '../ui/panel.tsx'
import styles from './criteria.module.css'
import { setChanges } from './set-changes.ts'

type Revision = { number: number; at: string; personId: Uuid; reason: string; body: CriteriaSet; before: CriteriaSet | null }

/** How a criteria set came to be as it is: every revision, by whom, why, and what changed. */
export function Revisions({ id }: { id: Uuid }) {
  const t = useSay()
  const query = useQuery(orpc.entities.revisions.queryOptions({ input: { id } }))
  const own = (query.data ?? []).flatMap(({ entity, ...made }) => (entity.kind === 'criteria_set' ? [{ ...made, entity }] : []))
  const ordered = own.sort((a, b) => a.entity.revision - b.entity.revision)
  const revisions = ordered.map(
    ({ entity, at, personId, reason }, index): Revision => ({
      number: entity.revision,
      at,
      personId,
      reason,
      body: entity.body,
      before: ordered[index - 1]?.entity.body ?? null,
    }),
  )
  return (
    <Panel title={t('criteria.history', {})} flush>
      {query.isPending ? <Busy label={t('app.loading', {})} /> : null}
      <ol className={styles.revisions}>
        {revisions.reverse().map((revision) => (
          <RevisionEntry key={revision.number} revision={revision} />
        ))}
      </ol>
    </Panel>
  )
}

function RevisionEntry({ revision }: { revision: Revision }) {
  const t = useSay()
  const sentence = useSentence()
  const { people } = useSession()
  const person = people.find((one) => one.id === revision.personId)?.body.name ?? ''
  const changes = revision.before ? setChanges(revision.before, revision.body) : []
  return (
    <li className={styles.revision}>
      <p className={styles.revisionHead}>{t('criteria.revision', { revision: revision.number })}</p>
      <p className={styles.criterionSmall}>{t('criteria.history.by', { person, at: revision.at })}</p>
      {revision.reason ? <p>{revision.reason}</p> : null}
      {changes.length > 0 ? (
        <ul className={styles.changes}>
          {changes.map((change) => (
            <li key={JSON.stringify(change)}>{sentence(change)}</li>
          ))}
        </ul>
      ) : (
        <p className={styles.soft}>{t('criteria.history.first', {})}</p>
      )}
    </li>
  )
}
