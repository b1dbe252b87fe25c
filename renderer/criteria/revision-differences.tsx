import { type CriterionDifference, compareRevisions, type RevisionDifference, saysTheSame } from '#core/criteria/compare-revisions.ts'
import type { CriteriaSet } from '#core/model/criteria.ts'
import { useSay } from '../app/session.tsx'
import { type Column, DataTable } from '../ui/data-table.tsx'
import styles from './criteria.module.css'

type Line = { readonly key: string; readonly what: string; readonly before: string; readonly after: string }

/** What differs between two revisions, a line for each field. */
function useLines(): (difference: RevisionDifference) => Line[] {
  const t = useSay()
  const ofCriterion = ({ key, before, after, fields }: CriterionDifference): Line[] => {
    if (!after)
      return before
        ? [{ key, what: t('criteria.removed', { title: before.title }), before: t('criteria.form_words', before), after: '' }]
        : []
    if (!before) return [{ key, what: t('criteria.added', { title: after.title }), before: '', after: t('criteria.form_words', after) }]
    return fields.map((field) => ({
      key: `${key} ${field}`,
      what: `${after.title} · ${t('criteria.field', { field })}`,
      before: t('criteria.value', { criterion: before, field }),
      after: t('criteria.value', { criterion: after, field }),
    }))
  }
  return ({ before, after, fields, criteria }) => [
    ...fields.map((field) => ({
      key: field,
      what: t('criteria.field', { field }),
      before: t('criteria.set_value', { set: before, field }),
      after: t('criteria.set_value', { set: after, field }),
    })),
    ...criteria.flatMap(ofCriterion),
  ]
}

type DifferencesProps = { before: CriteriaSet; after: CriteriaSet }

/** The differences as a short list, for the history of a set. */
export function DifferenceList({ before, after }: DifferencesProps) {
  const t = useSay()
  const linesOf = useLines()
  const difference = compareRevisions(before, after)
  if (saysTheSame(difference)) return <p className={styles.soft}>{t('criteria.history.same', {})}</p>
  return (
    <ul className={styles.changes}>
      {linesOf(difference).map((line) => (
        <li key={line.key}>
          {line.before && line.after
            ? t('criteria.changed', { name: line.what, before: line.before, after: line.after })
            : `${line.what} · ${line.before || line.after}`}
        </li>
      ))}
    </ul>
  )
}

/** The differences side by side. */
export function DifferenceTable({ before, after }: DifferencesProps) {
  const t = useSay()
  const linesOf = useLines()
  const difference = compareRevisions(before, after)
  const columns: Column<Line>[] = [
    { key: 'what', heading: t('criteria.compare.what', {}), cell: ({ what }) => what, rowHeading: true },
    { key: 'before', heading: t('criteria.compare.before', {}), cell: (line) => line.before || t('criteria.compare.nothing', {}) },
    { key: 'after', heading: t('criteria.compare.after', {}), cell: (line) => line.after || t('criteria.compare.nothing', {}) },
  ]
  return (
    <DataTable
      caption={t('criteria.compare.caption', {})}
      columns={columns}
      rows={linesOf(difference)}
      rowKey={({ key }) => key}
      empty={<p className={styles.soft}>{t('criteria.history.same', {})}</p>}
    />
  )
}
