import { Busy } from '../ui/busy.tsx'
import { Button } from '../ui/button.tsx'
import { api } from './client.ts'
import { useExternalState } from './external-state.ts'
import styles from './turn-banner.module.css'
import { turning } from './turning.ts'
import { useSay } from './words.tsx'

/** Says how far a long undo is, for as long as it takes. */
export function TurnBanner() {
  const t = useSay()
  const turn = useExternalState(turning)
  if (!turn) return null
  return (
    <div className={styles.banner}>
      <Busy label={turn.kind === 'undo' ? t('app.undo.many', {}) : t('app.redo.many', {})} progress={turn.progress} />
      <Button
        onClick={() => {
          // It ends by itself where it cannot be stopped any more.
          void api.jobs.cancel({ id: turn.id }).catch(() => undefined)
        }}
      >
        {t('app.turn.stop', {})}
      </Button>
    </div>
  )
}
