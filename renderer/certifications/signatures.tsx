import { useQuery } from '@tanstack/react-query'
import type { Uuid } from '#core/model/values.ts'
import { orpc } from '../app/client.ts'
import { useSay, useSession } from '../app/session.tsx'
import styles from './certifications.module.css'
import { MEANINGS } from './sign-run.tsx'

/** Who signed a run, when, and what the signature means, as the trail has it. */
export function Signatures({ runId }: { runId: Uuid }) {
  const t = useSay()
  const { people } = useSession()
  const trail = useQuery(orpc.audit.list.queryOptions({ input: { about: runId, before: null, limit: 200 } }))
  const signed = (trail.data?.entries ?? []).flatMap((entry) =>
    entry.command === 'run.sign'
      ? entry.changes.flatMap((change) => (change.what === 'results' && change.runId === runId ? [{ entry, meaning: change.meaning }] : []))
      : [],
  )
  if (signed.length === 0) return null
  const meaningWord = (meaning: string) => {
    const known = MEANINGS.find((candidate) => candidate === meaning)
    return known ? t(`certifications.sign.${known}`, {}) : meaning
  }
  return (
    <ul className={styles.signatures}>
      {signed.map(({ entry, meaning }) => (
        <li key={entry.commandId}>
          {t('certifications.sign.done', {
            name: people.find((person) => person.id === entry.personId)?.body.name ?? '',
            meaning: meaningWord(meaning),
            at: entry.at,
          })}
        </li>
      ))}
    </ul>
  )
}
