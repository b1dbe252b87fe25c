import type { Location } from '#core/model/readings.ts'
import type { Duct } from '#core/model/terminals.ts'
import styles from './duct.module.css'

type DuctSectionProps = {
  duct: Duct
  points: readonly Location[]
  currentPoint: number | null
  measured: ReadonlySet<number>
}

/** The inside of a duct to scale, seen looking with the air, with its points; where typing goes is marked. The table beside it holds the figures. */
export function DuctSection({ duct, points, currentPoint, measured }: DuctSectionProps) {
  const { section } = duct
  const widthM = section.shape === 'round' ? section.diameter.si : section.width.si
  const heightM = section.shape === 'round' ? section.diameter.si : section.height.si
  const margin = Math.max(widthM, heightM) * 0.05
  const dot = Math.min(widthM, heightM) * 0.022
  const current = points.find((point) => point.number === currentPoint)
  return (
    <svg
      className={styles.section}
      viewBox={`${-widthM / 2 - margin} ${-heightM / 2 - margin} ${widthM + 2 * margin} ${heightM + 2 * margin}`}
      aria-hidden="true"
    >
      {section.shape === 'round' ? (
        <circle r={widthM / 2} className={styles.wall} vectorEffect="non-scaling-stroke" />
      ) : (
        <rect x={-widthM / 2} y={-heightM / 2} width={widthM} height={heightM} className={styles.wall} vectorEffect="non-scaling-stroke" />
      )}
      {current ? <path d={probeOf(duct, points, current)} className={styles.probe} vectorEffect="non-scaling-stroke" /> : null}
      {points.map((point) => (
        <circle
          key={point.number}
          cx={point.offsetXM}
          cy={-point.offsetYM}
          r={point.number === currentPoint ? 2 * dot : dot}
          className={styles.dot}
          data-current={point.number === currentPoint ? '' : undefined}
          data-measured={measured.has(point.number) ? '' : undefined}
          vectorEffect="non-scaling-stroke"
        />
      ))}
    </svg>
  )
}

/** The probe from its port to the point: down from the top of a rectangular duct, along its diameter in a round one. */
function probeOf({ section }: Duct, points: readonly Location[], current: Location): string {
  if (section.shape === 'rectangle') return `M${current.offsetXM} ${-section.height.si / 2}V${-current.offsetYM}`
  const first = points.find((point) => point.row === current.row && point.column === 1) ?? current
  const reach = Math.hypot(first.offsetXM, first.offsetYM)
  const scale = reach === 0 ? 0 : section.diameter.si / 2 / reach
  return `M${first.offsetXM * scale} ${-first.offsetYM * scale}L${current.offsetXM} ${-current.offsetYM}`
}
