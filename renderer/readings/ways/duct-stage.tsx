import { useMemo, useRef } from 'react'
import { ductTraverse } from '#core/methods/airflow/duct-layout.ts'
import type { Duct } from '#core/model/terminals.ts'
import type { Unit } from '#core/model/values.ts'
import { useFormatter, useProject, useSay } from '../../app/session.tsx'
import type { CellLook } from '../cell-look.ts'
import { cellId, cellOfPoint, type OnStage, useStageForm } from '../cell-of-point.ts'
import { FaceCell } from '../face-cell.tsx'
import type { FilterPlan } from '../run-plan.ts'
import { useFocusAt } from '../use-focus-at.ts'
import styles from './duct.module.css'
import { DuctSection } from './duct-section.tsx'

type DuctStageProps = OnStage & {
  filter: FilterPlan
  duct: Duct
  looks: readonly CellLook[]
  /** velocities that follow from pressures, point by point; null where velocities are typed */
  velocities: ReadonlyMap<number, string> | null
  onGo: (point: number) => void
}

/**
 * A traverse before the technician: the section to scale, and beside it every point with the depth of the probe, line by line. The figures stand in
 * the table in the order they are walked.
 */
export function DuctStage(props: DuctStageProps) {
  const { filter, duct, looks, currentPoint, samples, velocities, onGo } = props
  const t = useSay()
  const f = useFormatter()
  const table = useRef<HTMLElement>(null)
  const form = useStageForm(looks, props.preview)
  useFocusAt(table, currentPoint === null ? null : cellId(currentPoint))
  const unit: Unit = useProject().body.display.length === 'm' ? 'mm' : 'in'
  const length = (si: number) => f.quantity(si, 'length', { unit, digits: unit === 'mm' ? 0 : 2 })
  const layout = useMemo(() => ductTraverse(duct), [duct])
  const { points } = filter
  const lines = filter.size.rows
  const places = filter.size.columns
  const shape = duct.section.shape
  const measured = useMemo(() => new Set(looks.filter(({ texts }) => texts.length > 0).map(({ point }) => point)), [looks])
  if ('problem' in layout) return null
  const portOf = (line: number) => {
    const port = layout.ports[line - 1] ?? 0
    return shape === 'round'
      ? { short: t('ways.duct.angle', { degrees: port }), full: t('ways.duct.at_angle', { degrees: port }) }
      : { short: length(port), full: t('ways.duct.at_wall', { depth: length(port) }) }
  }
  const current = points.find((point) => point.number === currentPoint)
  return (
    <div className={styles.stage}>
      <figure className={styles.picture}>
        <DuctSection duct={duct} points={points} currentPoint={currentPoint} measured={measured} />
        <figcaption className={styles.caption}>
          <span>{t('ways.duct.picture', { size: sizeText(duct, length) })}</span>
          <span>{t('ways.duct.seen', { of: { shape } })}</span>
        </figcaption>
      </figure>
      <section
        ref={table}
        className={styles.table}
        aria-label={t('ways.duct', { tag: filter.terminal.body.tag, lines, points: places, of: { shape } })}
        style={{
          gridTemplateRows: `auto repeat(${places}, minmax(44px, 1fr))`,
          gridTemplateColumns: `auto repeat(${lines}, minmax(48px, 1fr))`,
        }}
      >
        <span className={styles.corner} style={{ gridRow: 1, gridColumn: 1 }} title={t('ways.duct.depth_hint', {})}>
          {t('ways.duct.depth', {})}
        </span>
        {Array.from({ length: lines }, (_, index) => (
          <span
            key={`line ${layout.ports[index]}`}
            className={styles.line}
            style={{ gridRow: 1, gridColumn: index + 2 }}
            data-current={current?.row === index + 1 ? '' : undefined}
          >
            <strong>{t('ways.duct.line', { n: index + 1, of: { shape } })}</strong>
            <span title={portOf(index + 1).full}>{portOf(index + 1).short}</span>
          </span>
        ))}
        {layout.insertionsM.map((depthM, index) => (
          <span
            key={`depth ${depthM}`}
            className={styles.depth}
            style={{ gridRow: index + 2, gridColumn: 1 }}
            data-current={current?.column === index + 1 ? '' : undefined}
          >
            {length(depthM)}
          </span>
        ))}
        {looks.map((look, index) => {
          const point = points[index]
          if (!point) return null
          return (
            <FaceCell
              key={look.point}
              {...cellOfPoint(look, props, form)}
              towards={points[index + 1]?.row === point.row ? 'behind' : null}
              row={point.column + 1}
              column={point.row + 1}
              outside={null}
              limit=""
              beside={samples > 1 ? undefined : velocities?.get(look.point)}
              onGo={onGo}
            />
          )
        })}
      </section>
    </div>
  )
}

function sizeText({ section }: Duct, length: (si: number) => string): string {
  return section.shape === 'round' ? `⌀ ${length(section.diameter.si)}` : `${length(section.width.si)} × ${length(section.height.si)}`
}
