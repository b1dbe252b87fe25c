import { Fragment, useId, useState } from 'react'
import type { BudgetLine, FigureBudget } from '#core/model/budgets.ts'
import { useFormatter, useSay, useSentence } from '../app/words.tsx'
import { Icon } from '../ui/icon.tsx'
import styles from './budgets.module.css'

const MOST_TERMS = 24

/** Lines and terms have no identity but their place, and never move. */
function inPlaces<T>(list: readonly T[]): { readonly place: number; readonly of: T }[] {
  return list.map((of, place) => ({ place, of }))
}

/** The lines of a budget, the greatest first; each opens into its terms and where its size comes from. */
export function BudgetLines({ budget }: { budget: FigureBudget }) {
  const t = useSay()
  const f = useFormatter()
  return (
    <table className={styles.table}>
      <caption className="visually-hidden">{t('budget.caption', {})}</caption>
      <thead>
        <tr>
          <th scope="col">{t('budget.column.source', {})}</th>
          <th scope="col" className={styles.number}>
            {t('budget.column.contribution', {})} <span className={styles.unit}>{f.unit(budget.dimension)}</span>
          </th>
          <th scope="col" className={styles.number}>
            {t('budget.column.share', {})}
          </th>
          <th scope="col" className={styles.number}>
            {t('budget.column.degrees', {})}
          </th>
        </tr>
      </thead>
      <tbody>
        {inPlaces(budget.lines).map(({ place, of: line }) => (
          <Line key={place} line={line} budget={budget} />
        ))}
      </tbody>
    </table>
  )
}

function Line({ line, budget }: { line: BudgetLine; budget: FigureBudget }) {
  const t = useSay()
  const [open, setOpen] = useState(false)
  const detailId = useId()
  const several = line.degreesOfFreedom === null && !line.correlated && line.terms.some(({ degreesOfFreedom }) => degreesOfFreedom !== null)
  return (
    <Fragment>
      <tr>
        <th scope="row">
          <button
            type="button"
            className={styles.opener}
            aria-expanded={open}
            aria-controls={open ? detailId : undefined}
            onClick={() => setOpen(!open)}
          >
            <Icon name={open ? 'up' : 'down'} size={14} />
            {t('budget.source', line)}
          </button>
        </th>
        <td className={styles.number}>
          {t('budget.contribution_number', { contribution: line.contribution, dimension: budget.dimension })}
        </td>
        <td className={styles.number}>
          <span className={styles.share} style={{ inlineSize: `${Math.max(1, line.sharePercent) / 2}%` }} aria-hidden="true" />
          {t('budget.share', { percent: line.sharePercent })}
        </td>
        <td className={styles.number}>
          {several ? t('budget.each', {}) : t('budget.degrees', { degrees: { of: line.degreesOfFreedom } })}
        </td>
      </tr>
      {open ? (
        <tr id={detailId}>
          <td colSpan={4} className={styles.detail}>
            <LineDetail line={line} budget={budget} />
          </td>
        </tr>
      ) : null}
    </Fragment>
  )
}

function LineDetail({ line, budget }: { line: BudgetLine; budget: FigureBudget }) {
  const t = useSay()
  const sentence = useSentence()
  const { terms } = line
  const kind = line.correlated ? t('budget.correlated', { terms: terms.length }) : t('budget.independent', { terms: terms.length })
  return (
    <>
      {line.origin.map((origin) => (
        <p key={JSON.stringify(origin)}>{sentence(origin)}</p>
      ))}
      <p className={styles.soft}>{kind}</p>
      <ul className={styles.terms}>
        {inPlaces(terms.slice(0, MOST_TERMS)).map(({ place, of: term }) => (
          <li key={place}>{t('budget.term', { subject: term.subject, term, dimension: budget.dimension })}</li>
        ))}
      </ul>
      {terms.length > MOST_TERMS ? <p className={styles.soft}>{t('budget.more_terms', { more: terms.length - MOST_TERMS })}</p> : null}
    </>
  )
}
