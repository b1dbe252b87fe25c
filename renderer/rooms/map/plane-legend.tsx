import { useSay } from '#renderer/app/session.tsx'
import { cellCounts, type PlaneCell } from '../plan/plane-cells.ts'
import type { ShadeRange } from '../plan/velocity-shade.ts'
import legend from './legend.module.css'
import { ShadeScale } from './legend.tsx'
import styles from './plane-layer.module.css'
import { OutsideMark } from './plane-layer.tsx'

/** What the cells of a measuring plane mean: their own scale, and how the ones outside the limits are told. */
export function PlaneLegend({ zone, cells, range }: { zone: string; cells: readonly PlaneCell[]; range: ShadeRange | null }) {
  const t = useSay()
  const { measured, outside, limits } = cellCounts(cells)
  return (
    <section className={legend.legend} aria-label={t('map.legend', {})}>
      {range ? <ShadeScale range={range} /> : null}
      <ul className={legend.keys}>
        {limits ? (
          <li>
            <svg width="30" height="18" aria-hidden="true">
              <rect x="1" y="1" width="28" height="16" fill="url(#hatch-fail)" />
              <rect x="2" y="2" width="26" height="14" className={styles.outside} />
              <OutsideMark x={15} y={9} />
            </svg>
            {t('plane.outside', {})}
          </li>
        ) : (
          <li>{t('plane.no_limits', {})}</li>
        )}
        {measured < cells.length ? (
          <li>
            <svg width="30" height="18" aria-hidden="true">
              <rect x="1" y="1" width="28" height="16" fill="none" className={styles.cell} data-empty="" />
            </svg>
            {t('plane.not_measured', {})}
          </li>
        ) : null}
      </ul>
      <p className={legend.figures}>{t('plane.picture', { zone, cells: cells.length, measured, outside })}</p>
    </section>
  )
}
