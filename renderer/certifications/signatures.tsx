import type { Signature } from '#core/model/results.ts'
import { useSay, useSession } from '../app/session.tsx'
import styles from './certifications.module.css'

/** Who signed a run, when, and what the signature means. */
export function Signatures({ signatures }: { signatures: readonly Signature[] }) {
  const t = useSay()
  const { people } = useSession()
  if (signatures.length === 0) return null
  return (
    <ul className={styles.signatures}>
      {signatures.map(({ personId, at, meaning }) => (
        <li key={`${personId} ${meaning}`}>
          {t('certifications.sign.done', {
            name: people.find((person) => person.id === personId)?.body.name ?? '',
            meaning: t(`certifications.sign.${meaning}`, {}),
            at,
          })}
        </li>
      ))}
    </ul>
  )
}
