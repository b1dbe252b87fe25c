import { Link } from 'wouter'
import type { AuditChange, AuditEntry } from '#core/model/audit.ts'
import type { Uuid } from '#core/model/values.ts'
import { enteredText } from '#core/units/format.ts'
import { useCommandWord } from '../app/command-word.ts'
import { useFormatter, useSay, useSentence } from '../app/session.tsx'
import { Why } from '../app/why.tsx'
import { Facts } from '../ui/panel.tsx'
import styles from './audit.module.css'
import { differences } from './differences.ts'
import { labelOf, subjectsOf } from './subject.ts'
import { useValueText } from './value-text.ts'

const MOST_CHANGES_SHOWN = 40

type EntryWhyProps = { entry: AuditEntry; names: ReadonlyMap<Uuid, string> }

/** One entry in full: every field before and after. */
export function EntryWhy({ entry, names }: EntryWhyProps) {
  const t = useSay()
  const word = useCommandWord()
  const format = useFormatter()
  const subjects = subjectsOf(entry).slice(0, 5)
  return (
    <Why title={`${t('audit.entry', { number: entry.number })} · ${word(entry.command)}`}>
      <Facts
        facts={[
          [t('audit.column.at', {}), format.dateTime(entry.at)],
          [t('audit.column.person', {}), names.get(entry.personId) ?? t('audit.someone', {})],
          [t('audit.column.reason', {}), entry.reason || t('audit.none', {})],
          [t('audit.entry.zone', {}), entry.zone],
          [
            t('audit.entry.hash', {}),
            <code key="hash" className={styles.hash}>
              {entry.hash}
            </code>,
          ],
        ]}
      />
      {entry.undoes ? <p className={styles.faint}>{t('audit.entry.undoes', {})}</p> : null}
      <div className={styles.changes}>
        {entry.changes.slice(0, MOST_CHANGES_SHOWN).map((change, index) => (
          <ChangeBlock key={`${entry.hash}:${index.toString()}`} change={change} names={names} />
        ))}
      </div>
      {entry.changes.length > MOST_CHANGES_SHOWN ? (
        <p className={styles.faint}>{t('audit.and_more', { count: entry.changes.length - MOST_CHANGES_SHOWN })}</p>
      ) : null}
      <ul className={styles.links}>
        {subjects.map((subject) => (
          <li key={subject.id}>
            <Link href={`/audit?about=${subject.id}`}>
              {t('audit.entry.only_about', { what: subject.label ?? names.get(subject.id) ?? t('audit.about.run', {}) })}
            </Link>
          </li>
        ))}
      </ul>
    </Why>
  )
}

function ChangeBlock({ change, names }: { change: AuditChange; names: ReadonlyMap<Uuid, string> }) {
  const t = useSay()
  const sentence = useSentence()
  const text = useValueText(names)
  if (change.what !== 'entity') return <p className={styles.line}>{sentenceOf(change, names, t)}</p>
  const kind = sentence({ code: `app.find.kind.${change.kind}`, params: {} })
  const label = labelOf(change.after) ?? labelOf(change.before)
  const what = label ? `${kind} ${label}` : kind
  const found = differences(change.before, change.after)
  return (
    <section className={styles.change}>
      <h3>{change.before === null ? t('audit.created', { what }) : change.after === null ? t('audit.removed', { what }) : what}</h3>
      <dl className={styles.differences}>
        {(change.before === null || change.after === null ? [] : found).map((difference) => (
          <div key={difference.path} className={styles.difference}>
            <dt>{t('audit.field', { path: difference.path })}</dt>
            <dd>
              <del
                data-nothing={difference.before === null || difference.before === undefined || difference.before === '' ? '' : undefined}
              >
                <span className="visually-hidden">{t('audit.before', {})} </span>
                {text(difference.before)}
              </del>
              <ins>
                <span className="visually-hidden">{t('audit.after', {})} </span>
                {text(difference.after)}
              </ins>
            </dd>
          </div>
        ))}
        {change.before === null || change.after === null
          ? Object.entries(change.after ?? change.before ?? {}).map(([name, value]) => (
              <div key={name} className={styles.difference}>
                <dt>{t('audit.field', { path: name })}</dt>
                <dd>{text(value)}</dd>
              </div>
            ))
          : null}
      </dl>
      {change.before !== null && change.after !== null && found.length === 0 ? (
        <p className={styles.faint}>{t('audit.unchanged', {})}</p>
      ) : null}
    </section>
  )
}

type OtherChange = Exclude<AuditChange, { what: 'entity' }>

const numberOf = (readingId: string): string => readingId.split(':').at(-1) ?? readingId

function sentenceOf(change: OtherChange, names: ReadonlyMap<Uuid, string>, t: ReturnType<typeof useSay>): string {
  switch (change.what) {
    case 'reading':
      return t('audit.change.reading', { point: change.reading.point, sample: change.reading.sample, typed: enteredText(change.reading) })
    case 'void':
      return t('audit.change.void', { reading: numberOf(change.readingId) })
    case 'readings':
      return t('audit.change.readings', { count: change.count, first: numberOf(change.first) })
    case 'voids':
      return t('audit.change.voids', { count: change.count, first: numberOf(change.first) })
    case 'layout':
      return t('audit.change.layout', { filters: change.terminalIds.length, before: change.before.length, after: change.after.length })
    case 'pin':
      return t('audit.change.pin', {
        what: names.get(change.entityId) ?? t('audit.change.pin.thing', {}),
        before: change.revisionBefore,
        after: change.revisionAfter,
      })
    case 'results':
      return t('audit.change.results', { rows: change.rows, meaning: change.meaning })
    case 'attachment':
      return t('audit.change.attachment', { name: change.name })
  }
}
