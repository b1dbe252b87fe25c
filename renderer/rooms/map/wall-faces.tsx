import type { Entity } from '#core/model/entities.ts'
import { useSay } from '#renderer/app/session.tsx'
import { VERDICT_COLOUR, VERDICT_GROUND, VERDICT_HATCH } from '#renderer/ui/verdict-patterns.tsx'
import type { FaceLook } from './face-look.ts'
import styles from './wall-faces.module.css'

const MOST_HEIGHT_PX = 22

/**
 * Filters and grilles in walls, each as a person in the room sees it when facing it: width across, height up, right hand right. On the
 * plan itself they are only a strip along the wall.
 */
export function WallFaces({
  walls,
  looks,
  selection,
  onPick,
}: {
  walls: readonly Entity<'terminal'>[]
  looks: ReadonlyMap<string, FaceLook>
  selection: ReadonlySet<string>
  onPick: (id: string) => void
}) {
  const t = useSay()
  if (walls.length === 0) return null
  const tallest = Math.max(...walls.map((wall) => wall.body.grossDepth.si))
  return (
    <section className={styles.walls} aria-label={t('map.walls.title', {})}>
      <h2 className={styles.title}>{t('map.walls.title', {})}</h2>
      <div className={styles.row}>
        {walls.map(({ id, body }) => {
          const look = looks.get(id)
          const scale = MOST_HEIGHT_PX / tallest
          const [width, height] = [body.grossWidth.si * scale, body.grossDepth.si * scale]
          const verdict = look?.node.verdict ?? 'not_applicable'
          return (
            <button key={id} type="button" className={styles.wall} aria-pressed={selection.has(id)} onClick={() => onPick(id)}>
              <svg width={width + 4} height={height + 4} aria-hidden="true">
                <rect x="2" y="2" width={width} height={height} style={{ fill: look?.node.shade ?? VERDICT_GROUND[verdict] }} />
                {look?.node.shade ? null : <rect x="2" y="2" width={width} height={height} style={{ fill: VERDICT_HATCH[verdict] }} />}
                <rect
                  x="2"
                  y="2"
                  width={width}
                  height={height}
                  fill="none"
                  strokeWidth="1.75"
                  strokeDasharray={verdict === 'not_tested' || look?.node.closed ? '5 3' : undefined}
                  style={{ stroke: VERDICT_COLOUR[verdict] }}
                />
              </svg>
              <span className="visually-hidden">{look?.node.name}</span>
              <span className={styles.words} aria-hidden="true">
                <span>{body.tag}</span>
                {look?.flowText ? <strong>{look.flowText}</strong> : null}
              </span>
            </button>
          )
        })}
      </div>
    </section>
  )
}
