import { useSay } from '../app/session.tsx'
import { joined } from '../ui/class-names.ts'
import styles from './number-pad.module.css'
import type { TypingEvent } from './typing.ts'

const DIGITS = ['7', '8', '9', '4', '5', '6', '1', '2', '3'] as const

/** Large number keys for a tablet without a keyboard. Pressing one leaves the focus where it is. */
export function NumberPad({ decimal, onType }: { decimal: '.' | ','; onType: (event: TypingEvent) => void }) {
  const t = useSay()
  const key = (label: string, event: TypingEvent, extra?: { className?: string; name?: string; icon?: boolean }) => (
    <button
      key={label}
      type="button"
      tabIndex={-1}
      className={joined(styles.key, extra?.className)}
      aria-label={extra?.name}
      onPointerDown={(pointer) => {
        // Acts on touching down, not on lifting: gloves slide.
        pointer.preventDefault()
        onType(event)
      }}
    >
      {extra?.icon ? (
        <svg viewBox="0 0 28 20" width="34" height="24" className={styles.back} aria-hidden="true">
          <path d="M9 3h16v14H9L2.5 10ZM13.5 7l6 6M19.5 7l-6 6" />
        </svg>
      ) : (
        label
      )}
    </button>
  )
  return (
    <fieldset aria-label={t('readings.key.pad', {})} className={styles.pad}>
      {DIGITS.map((digit) => key(digit, { kind: 'character', character: digit }))}
      {key(decimal, { kind: 'character', character: decimal })}
      {key('0', { kind: 'character', character: '0' }, { className: styles.zero })}
      {key('erase', { kind: 'erase' }, { className: styles.erase, name: t('readings.key.erase', {}), icon: true })}
      {key(t('readings.key.enter', {}), { kind: 'enter' }, { className: styles.enter })}
    </fieldset>
  )
}
