import { useSay } from '../app/session.tsx'
import { joined } from '../ui/class-names.ts'
import { Icon, type IconName } from '../ui/icon.tsx'
import type { CalibrationState } from './calibration-state.ts'
import styles from './instruments.module.css'
import type { KnownInstrument } from './use-instruments.ts'

const ICON: Readonly<Record<CalibrationState['kind'], IconName>> = {
  valid: 'check',
  ends_soon: 'clock',
  past_due: 'warn',
  none: 'warn',
  before_first: 'clock',
}

/** The state of a calibration: a sign and words, never a colour alone. */
export function CalibrationMark({ state, long }: { state: CalibrationState; long?: boolean }) {
  const text = useCalibrationText()
  return (
    <span className={joined(styles.mark, styles[state.kind])}>
      <Icon name={ICON[state.kind]} size={16} />
      <span>{text(state, long ?? false)}</span>
    </span>
  )
}

/** That a certificate found the instrument out of tolerance, and whether a deviation deals with it. */
export function DoubtMark({ doubts }: { doubts: KnownInstrument['doubts'] }) {
  const t = useSay()
  const open = doubts.find(({ deviation }) => deviation === null) ?? doubts[0]
  if (!open) return null
  return (
    <span className={joined(styles.mark, styles.doubtful)}>
      <Icon name="warn" size={16} />
      <span>{t('instruments.doubt', { deviation: open.deviation })}</span>
    </span>
  )
}

export function useCalibrationText(): (state: CalibrationState, long: boolean) => string {
  const t = useSay()
  return (state, long) => {
    switch (state.kind) {
      case 'valid':
        return long ? t('instruments.state.valid', state) : t('instruments.state_short.valid', {})
      case 'ends_soon':
        return long ? t('instruments.state.ends_soon', state) : t('instruments.state_short.ends_soon', state)
      case 'past_due':
        return long ? t('instruments.state.past_due', state) : t('instruments.state_short.past_due', {})
      case 'none':
        return long ? t('instruments.state.none', {}) : t('instruments.state_short.none', {})
      case 'before_first':
        return long ? t('instruments.state.before_first', {}) : t('instruments.state_short.before_first', {})
    }
  }
}
