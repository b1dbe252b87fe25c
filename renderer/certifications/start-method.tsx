import type { MethodId } from '#core/model/runs.ts'
import { useSay } from '../app/session.tsx'
import { ChoiceCard } from '../ui/choice-card.tsx'
import { METHODS } from './start-defaults.ts'
import styles from './start-run.module.css'

type StartMethodProps = {
  method: MethodId
  proposed: MethodId
  /** methods that have nothing to measure here */
  without: ReadonlySet<MethodId>
  onPick: (method: MethodId) => void
}

/** What is measured, in words, one large choice above the other. */
export function StartMethod({ method, proposed, without, onPick }: StartMethodProps) {
  const t = useSay()
  return (
    <fieldset className={styles.methods}>
      <legend>{t('ways.start.method', {})}</legend>
      {METHODS.map((one) => {
        const none = without.has(one)
        return (
          <ChoiceCard key={one} name="method" picked={one === method} disabled={none} onPick={() => onPick(one)}>
            <strong>{t(`ways.start.${one}`, {})}</strong>
            <span>
              {none ? t(one === 'plane_velocity_grid' ? 'ways.start.no_zone' : 'ways.start.nothing', {}) : t(`ways.start.${one}.about`, {})}
            </span>
            {one === proposed && !none ? <span className={styles.proposed}>{t('ways.start.proposed', {})}</span> : null}
          </ChoiceCard>
        )
      })}
    </fieldset>
  )
}
