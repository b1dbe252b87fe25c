import { useFormatter, useSay } from '#renderer/app/session.tsx'
import { IconButton } from '#renderer/ui/button.tsx'
import { scaleBar } from '../plan/scale-bar.ts'
import type { PanZoom } from './pan-zoom.ts'
import styles from './plan.module.css'

/** North as it lies on this plan: plan-up is always up, the arrow turns. */
export function NorthAndScale({ northDegrees, pxPerM }: { northDegrees: number; pxPerM: number }) {
  const t = useSay()
  const formatter = useFormatter()
  const feet = formatter.unit('length').startsWith('ft')
  const bar = scaleBar(pxPerM, feet ? 'ft' : 'm', 140)
  const text = t('map.scale.length', { bar: { value: bar.value, unit: bar.unit } })
  return (
    <div className={styles.scale}>
      <svg width="34" height="42" role="img" aria-label={t('map.north', { degrees: northDegrees })}>
        <g transform={`rotate(${northDegrees} 17 26)`}>
          <path d="M17 11 11 38 17 33.5 23 38Z" className={styles.northArrow} />
          <text x="17" y="9" className={styles.northText} transform={`rotate(${-northDegrees} 17 5)`}>
            {t('map.north.letter', {})}
          </text>
        </g>
      </svg>
      <svg width={bar.px + 4} height="26" role="img" aria-label={t('map.scale', { length: text })}>
        <path d={`M2 12v6h${bar.px}v-6`} className={styles.scaleInk} />
      </svg>
      <span className={styles.scaleText}>{text}</span>
    </div>
  )
}

export function ZoomBar({ panZoom }: { panZoom: PanZoom }) {
  const t = useSay()
  return (
    <div className={styles.zoomBar}>
      <IconButton icon="add" label={t('map.zoom.in', {})} keys="+" onClick={() => panZoom.zoom(1.25)} />
      <IconButton icon="remove" label={t('map.zoom.out', {})} keys="−" onClick={() => panZoom.zoom(0.8)} />
      <IconButton icon="room" label={t('map.zoom.fit', {})} keys="0" onClick={() => panZoom.showAll()} />
    </div>
  )
}
