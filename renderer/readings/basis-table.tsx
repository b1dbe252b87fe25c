import { heldCriterion } from '#core/criteria/held-criterion.ts'
import type { AirOfRun, ByBasis, CriterionResult } from '#core/model/results.ts'
import type { Basis } from '#core/model/values.ts'
import { useFormatter, useSay } from '../app/session.tsx'
import styles from './filter-why.module.css'

const BASES: readonly Basis[] = ['as_indicated', 'standard', 'actual']

type BasisTableProps = { byBasis: ByBasis | null; air: AirOfRun | null; criteria: readonly CriterionResult[]; flow: boolean }

/** The same air as indicated, standard and actual, with the factors and densities between them and the criteria that use each. */
export function BasisTable({ byBasis, air, criteria, flow }: BasisTableProps) {
  const t = useSay()
  const f = useFormatter()
  if (!byBasis) return null
  const used = criteria.filter(({ verdict }) => verdict !== 'not_applicable')
  const indicated = byBasis.as_indicated
  const withVelocity = BASES.some((basis) => byBasis[basis]?.meanVelocityMps != null)
  const factorOf = (basis: Basis) => {
    const on = byBasis[basis]
    const [over, under] = withVelocity ? [on?.meanVelocityMps, indicated.meanVelocityMps] : [on?.flowM3ps, indicated.flowM3ps]
    return over && under ? over / under : null
  }
  return (
    <section className={styles.part}>
      <h3>{t('ways.basis.title', {})}</h3>
      <table className={styles.table}>
        <thead>
          <tr>
            <td />
            {withVelocity ? (
              <th scope="col" className={styles.head}>
                {t('ways.basis.mean', {})} <span className={styles.quiet}>{f.unit('velocity')}</span>
              </th>
            ) : null}
            {flow ? (
              <th scope="col" className={styles.head}>
                {t('ways.basis.flow', {})} <span className={styles.quiet}>{f.unit('flow')}</span>
              </th>
            ) : null}
            <th scope="col" className={styles.figure}>
              {t('ways.basis.factor', {})}
            </th>
          </tr>
        </thead>
        <tbody>
          {BASES.map((basis) => {
            const figures = byBasis[basis]
            const factor = factorOf(basis)
            const titles = used
              .filter((criterion) => criterion.basis === basis)
              .map((criterion) => t('criterion.named', heldCriterion(criterion)))
            return (
              <tr key={basis}>
                <th scope="row">
                  {t('ways.basis', { of: { basis } })}
                  {titles.length > 0 ? (
                    <span className={styles.more}>{t('ways.basis.used_by', { titles: [...new Set(titles)].join(', ') })}</span>
                  ) : null}
                </th>
                {withVelocity ? (
                  <td className={styles.figure}>
                    {figures ? f.number(figures.meanVelocityMps, 'velocity', { digits: 3 }) : t('ways.basis.not_known', {})}
                  </td>
                ) : null}
                {flow ? (
                  <td className={styles.figure}>{figures ? f.number(figures.flowM3ps, 'flow') : t('ways.basis.not_known', {})}</td>
                ) : null}
                <td className={styles.figure}>{factor === null ? '' : t('ways.basis.times', { factor })}</td>
              </tr>
            )
          })}
        </tbody>
      </table>
      {air ? (
        <p className={styles.reason}>
          {t('ways.basis.density', { actual: air.actualKgpm3, instrument: air.atInstrumentKgpm3, standard: air.standardKgpm3 })}
        </p>
      ) : null}
      {byBasis.actual !== null ? null : <p className={styles.quiet}>{t('ways.basis.why_not', {})}</p>}
    </section>
  )
}
