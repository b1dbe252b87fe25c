import { useSay } from '../app/session.tsx'
import styles from './face.module.css'

/** Where north lies on the screen, so that nobody has to guess how the face is turned. */
export function NorthArrow({ degrees }: { degrees: number }) {
  const t = useSay()
  return (
    <svg className={styles.north} viewBox="-22 -22 44 44" role="img" aria-label={t('readings.north_name', { degrees })}>
      <circle r="20.5" />
      <g style={{ transform: `rotate(${degrees}deg)` }}>
        <path d="M0 -18 5.5 -4H-5.5Z" />
        <line y1="-4" y2="16" />
        <text y="8" style={{ transform: `rotate(${-degrees}deg)` }} textAnchor="middle">
          {t('readings.north', {})}
        </text>
      </g>
    </svg>
  )
}
