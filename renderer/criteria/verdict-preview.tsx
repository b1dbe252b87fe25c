import { useQuery } from '@tanstack/react-query'
import { useId, useState } from 'react'
import type { CriteriaPreview, SubjectUnderDraft } from '#core/api/criteria-preview.ts'
import { heldCriterion } from '#core/criteria/held-criterion.ts'
import { type CriteriaSet, Verdict } from '#core/model/criteria.ts'
import type { VerdictCounts } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { newestFirst } from '../app/certification-shown.ts'
import { orpc } from '../app/client.ts'
import { useFailureText, useSay, useSentence } from '../app/session.tsx'
import forms from '../forms/forms.module.css'
import { Busy } from '../ui/busy.tsx'
import { Button } from '../ui/button.tsx'
import { Icon } from '../ui/icon.tsx'
import { Panel } from '../ui/panel.tsx'
import { Select } from '../ui/select.tsx'
import { useVerdictWord, VerdictBar, VerdictMark } from '../ui/verdict-mark.tsx'
import { WholeTags } from '../ui/whole-tags.tsx'
import styles from './criteria.module.css'
import type { SetRevision } from './set-revisions.ts'

const DRAFT = 'draft'
const MOST_ROWS = 200

/** What was asked last: the answer names it, because the choices above it may have moved on. */
type Asked = { readonly certificationId: Uuid; readonly body: CriteriaSet; readonly certification: string; readonly of: string }
type PreviewProps = { setId: Uuid; revisions: readonly SetRevision[]; draft: { readonly body: CriteriaSet | null } | null }

/** "What would change in verdicts if this were applied?": one certification, under a revision of the set or its unsaved draft. */
export function VerdictPreview({ setId, revisions, draft }: PreviewProps) {
  const t = useSay()
  const list = useQuery(orpc.entities.list.queryOptions({ input: { kinds: ['certification'], within: null } }))
  const visits = newestFirst((list.data ?? []).filter((entity) => entity.kind === 'certification'))
  const [visit, setVisit] = useState<Uuid | null>(null)
  const [under, setUnder] = useState<string | null>(null)
  const [asked, setAsked] = useState<Asked | null>(null)
  const certificationId = visit ?? visits[0]?.id ?? null
  // A draft that was saved or given up is no choice any more.
  const chosen = under === DRAFT && !draft ? null : under
  const wanted = chosen ?? (draft ? DRAFT : String(revisions.at(-1)?.number ?? ''))
  const body = wanted === DRAFT ? (draft?.body ?? null) : (revisions.find(({ number }) => String(number) === wanted)?.body ?? null)
  const choices = [
    ...(draft ? [{ value: DRAFT, label: t('criteria.compare.draft', {}) }] : []),
    ...revisions.map(({ number }) => ({ value: String(number), label: t('criteria.revision', { revision: number }) })).reverse(),
  ]
  return (
    <Panel title={t('criteria.preview', {})}>
      <div className={forms.stack}>
        <p className={styles.soft}>{t('criteria.preview.about', {})}</p>
        {list.data && visits.length === 0 ? <p className={styles.soft}>{t('criteria.preview.none', {})}</p> : null}
        {visits.length > 0 ? (
          <div className={forms.grid}>
            <Select
              label={t('criteria.preview.certification', {})}
              value={certificationId}
              choices={visits.map(({ id, body: { name } }) => ({ value: id, label: name }))}
              onChange={setVisit}
            />
            <Select label={t('criteria.preview.under', {})} value={wanted} choices={choices} onChange={setUnder} />
            <Button
              className={styles.ask}
              disabled={certificationId === null || body === null}
              onClick={() => {
                if (!certificationId || !body) return
                const certification = visits.find(({ id }) => id === certificationId)?.body.name ?? ''
                setAsked({ certificationId, body, certification, of: choices.find(({ value }) => value === wanted)?.label ?? '' })
              }}
            >
              {t('criteria.preview.show', {})}
            </Button>
            {draft && wanted === DRAFT && !draft.body ? <p className={forms.whole}>{t('criteria.preview.incomplete', {})}</p> : null}
          </div>
        ) : null}
        {asked ? <Answer {...asked} setId={setId} /> : null}
      </div>
    </Panel>
  )
}

function Answer({ certificationId, setId, body, certification, of }: Asked & { setId: Uuid }) {
  const t = useSay()
  const sentence = useSentence()
  const failureText = useFailureText()
  const query = useQuery(orpc.criteria.preview.queryOptions({ input: { certificationId, criteriaSetId: setId, body } }))
  if (query.error) return <p role="alert">{failureText(query.error)}</p>
  if (!query.data) return <Busy label={t('criteria.preview.busy', {})} />
  const { rooms, changed } = query.data
  return (
    <div className={forms.stack} aria-live="polite">
      <h3 className={styles.criterionTitle}>{t('criteria.preview.answer', { certification, of })}</h3>
      <p>{t('criteria.preview.reach', query.data)}</p>
      <Counts preview={query.data} />
      <p className={styles.criterionTitle}>{t('criteria.preview.rooms', { count: rooms.changed.length })}</p>
      {rooms.changed.map((room) => (
        <p key={room.roomId} className={styles.turned}>
          <strong className={styles.whole}>{room.label}</strong>
          <Turned from={room.asJudged} to={room.underDraft} />
          {room.calculationChanged ? <span className={styles.soft}>{t('criteria.preview.calculation', {})}</span> : null}
          <span className={styles.soft}>{sentence(room.headline)}</span>
        </p>
      ))}
      {changed.length === 0 ? <p className={styles.soft}>{t('criteria.preview.same', {})}</p> : <ChangedCriteria changed={changed} />}
    </div>
  )
}

function Turned({ from, to }: { from: Verdict | null; to: Verdict | null }) {
  const t = useSay()
  const mark = (verdict: Verdict | null) =>
    verdict ? <VerdictMark verdict={verdict} /> : <span className={styles.faint}>{t('criteria.preview.new', {})}</span>
  return (
    <span className={styles.turned}>
      {mark(from)}
      <Icon name="right" size={14} />
      {mark(to)}
    </span>
  )
}

function Counts({ preview }: { preview: CriteriaPreview }) {
  const t = useSay()
  const word = useVerdictWord()
  const told = (counts: VerdictCounts) =>
    Verdict.options
      .filter((verdict) => counts[verdict] > 0)
      .map((verdict) => t('criteria.preview.count', { count: counts[verdict], verdict: word(verdict) }))
      .join(', ')
  const line = (label: string, counts: VerdictCounts) => (
    <div className={styles.countLine}>
      <span className={styles.criterionSmall}>{label}</span>
      <VerdictBar counts={counts} label={label} />
      <span>{told(counts)}</span>
    </div>
  )
  const pair = (label: string, { asJudged, underDraft }: { asJudged: VerdictCounts; underDraft: VerdictCounts }) => (
    <>
      <dt>{label}</dt>
      <dd>
        {line(t('criteria.preview.as_judged', {}), asJudged)}
        {line(t('criteria.preview.under_draft', {}), underDraft)}
      </dd>
    </>
  )
  return (
    <dl className={styles.counts} aria-label={t('criteria.preview.counts', {})}>
      {pair(t('criteria.preview.of_rooms', {}), preview.rooms)}
      {pair(t('criteria.preview.of_filters', {}), preview.filters)}
    </dl>
  )
}

type Row = { readonly key: string; readonly label: string; readonly criterion: SubjectUnderDraft['criteria'][number] }

/** Every criterion that would read otherwise, with its reason below it: reasons are long, and a column of them would be a thread. */
function ChangedCriteria({ changed }: { changed: readonly SubjectUnderDraft[] }) {
  const t = useSay()
  const sentence = useSentence()
  const headingId = useId()
  const rows = changed.flatMap(({ kind, subjectId, label, criteria }) =>
    criteria.map((criterion): Row => ({ key: `${kind} ${subjectId} ${criterion.key}`, label, criterion })),
  )
  return (
    <section aria-labelledby={headingId}>
      <h3 id={headingId} className={styles.criterionTitle}>
        {t('criteria.preview.changed', { count: rows.length })}
      </h3>
      <ul className={styles.otherwise}>
        {rows.slice(0, MOST_ROWS).map(({ key, label, criterion }) => (
          <li key={key}>
            <div className={styles.otherwiseHead}>
              <strong className={styles.whole}>{label}</strong>
              <span>{t('criterion.named', heldCriterion(criterion))}</span>
              <Turned from={criterion.asJudged} to={criterion.underDraft} />
            </div>
            {criterion.calculationChanged ? <p className={styles.soft}>{t('criteria.preview.calculation', {})}</p> : null}
            <p className={styles.criterionSmall}>
              <WholeTags text={sentence(criterion.reason)} />
            </p>
          </li>
        ))}
      </ul>
      {rows.length > MOST_ROWS ? <p className={styles.soft}>{t('criteria.preview.more', { more: rows.length - MOST_ROWS })}</p> : null}
    </section>
  )
}
