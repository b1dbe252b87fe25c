import { useState } from 'react'
import type { CriteriaSet } from '#core/model/criteria.ts'
import { useSay, useSession } from '../app/session.tsx'
import forms from '../forms/forms.module.css'
import { Busy } from '../ui/busy.tsx'
import { Panel } from '../ui/panel.tsx'
import { Select } from '../ui/select.tsx'
import styles from './criteria.module.css'
import { DifferenceList, DifferenceTable } from './revision-differences.tsx'
import type { SetRevision } from './set-revisions.ts'

/** How a criteria set came to be as it is: every revision, by whom, why, and what changed. */
export function Revisions({ revisions }: { revisions: readonly SetRevision[] | null }) {
  const t = useSay()
  return (
    <Panel title={t('criteria.history', {})} flush>
      {revisions === null ? <Busy label={t('app.loading', {})} /> : null}
      <ol className={styles.revisions}>
        {revisions
          ?.map((revision, index) => (
            <RevisionEntry key={revision.number} revision={revision} before={revisions[index - 1]?.body ?? null} />
          ))
          .reverse()}
      </ol>
    </Panel>
  )
}

function RevisionEntry({ revision, before }: { revision: SetRevision; before: CriteriaSet | null }) {
  const t = useSay()
  const { people } = useSession()
  const person = people.find((one) => one.id === revision.personId)?.body.name ?? ''
  return (
    <li className={styles.revision}>
      <p className={styles.revisionHead}>{t('criteria.revision', { revision: revision.number })}</p>
      <p className={styles.criterionSmall}>{t('criteria.history.by', { person, at: revision.at })}</p>
      {revision.reason ? <p>{revision.reason}</p> : null}
      {before ? <DifferenceList before={before} after={revision.body} /> : <p className={styles.soft}>{t('criteria.history.first', {})}</p>}
    </li>
  )
}

const DRAFT = 'draft'

type CompareProps = { revisions: readonly SetRevision[]; draft: CriteriaSet | null }

/** Any two revisions side by side, the unsaved draft among them. */
export function CompareRevisions({ revisions, draft }: CompareProps) {
  const t = useSay()
  const last = revisions.at(-1)
  const [from, setFrom] = useState<string | null>(null)
  const [to, setTo] = useState<string | null>(null)
  const choices = [
    ...revisions.map(({ number }) => ({ value: String(number), label: t('criteria.revision', { revision: number }) })),
    ...(draft ? [{ value: DRAFT, label: t('criteria.compare.draft', {}) }] : []),
  ]
  const latest = draft ? DRAFT : String(last?.number ?? '')
  // A draft that was saved or given up is no choice any more.
  const kept = (chosen: string | null) => (chosen === DRAFT && !draft ? null : chosen)
  const earlier = kept(from) ?? String((draft ? last : (revisions.at(-2) ?? last))?.number ?? '')
  const later = kept(to) ?? latest
  const bodyOf = (value: string) => (value === DRAFT ? draft : (revisions.find(({ number }) => String(number) === value)?.body ?? null))
  const before = bodyOf(earlier)
  const after = bodyOf(later)
  if (choices.length < 2) return null
  return (
    <Panel title={t('criteria.compare', {})}>
      <div className={forms.stack}>
        <div className={forms.grid}>
          <Select label={t('criteria.compare.earlier', {})} value={earlier} choices={choices} onChange={setFrom} />
          <Select label={t('criteria.compare.later', {})} value={later} choices={choices} onChange={setTo} />
        </div>
        {before && after ? <DifferenceTable before={before} after={after} /> : null}
      </div>
    </Panel>
  )
}
