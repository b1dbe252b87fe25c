import type { WholeSiteBalance } from '#core/api/balance.ts'
import { useFormatter, useSay } from '../app/session.tsx'
import { Figure } from '../ui/figure.tsx'
import styles from './balance.module.css'

/** The site's air as two sums that a reader can follow: supply - return - exhaust = offset, and where the offset goes. */
export function SiteSums({ balance }: { balance: WholeSiteBalance }) {
  const t = useSay()
  const f = useFormatter()
  const incomplete = balance.rooms.some(({ gap }) => gap !== null)
  const flow = (label: string, value: number | null, note?: string) => (
    <Figure label={label} value={f.number(value, 'flow')} unit={value === null ? '' : f.unit('flow')} note={note} size="large" />
  )
  const soFar = incomplete ? t('balance.so_far', {}) : undefined
  const sign = (text: string) => (
    <span aria-hidden className={styles.sign}>
      {text}
    </span>
  )
  return (
    <div className={styles.sums}>
      <div className={styles.sum}>
        {flow(t('balance.supply', {}), balance.supplyM3ps, soFar)}
        {sign(t('balance.minus', {}))}
        {flow(t('balance.return', {}), balance.returnM3ps, soFar)}
        {sign(t('balance.minus', {}))}
        {flow(t('balance.exhaust', {}), balance.exhaustM3ps, soFar)}
        {sign(t('balance.equals', {}))}
        {flow(t('balance.offset', {}), balance.offsetM3ps, t('balance.offset_note', { offset: balance.offsetM3ps }))}
        {sign(t('balance.equals', {}))}
        {flow(t('balance.to_outside', {}), balance.toOutsideM3ps)}
        {sign(t('balance.plus', {}))}
        {flow(t('balance.unaccounted', {}), balance.unaccountedM3ps, t('balance.unaccounted_note', {}))}
      </div>
      <div className={styles.sum}>
        {flow(t('balance.between', {}), balance.betweenRoomsM3ps, t('balance.between_note', {}))}
        {flow(t('balance.recirculated', {}), balance.recirculatedM3ps, t('balance.recirculated_note', {}))}
      </div>
      <p className={styles.faint}>{t('balance.rounding', {})}</p>
    </div>
  )
}
