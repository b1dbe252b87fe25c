import { Dialog } from '../ui/dialog.tsx'
import styles from './help.module.css'
import { useSay, useSession } from './session.tsx'

/** Keys, cautions, and what the program is not. */
export function HelpDialog({ open, onClose }: { open: boolean; onClose: () => void }) {
  const t = useSay()
  const { files } = useSession()
  const control = /mac/i.test(navigator.userAgent) ? '⌘' : 'Ctrl'
  const keys: readonly (readonly [string[], string])[] = [
    [[`${control} K`, '/'], t('app.help.key.find', {})],
    [[`${control} Z`], t('app.help.key.undo', {})],
    [[`${control} Shift Z`, `${control} Y`], t('app.help.key.redo', {})],
    [['F7'], t('app.help.key.where', {})],
    [['F6'], t('app.help.key.what', {})],
    [['F8'], t('app.help.key.why', {})],
    [['F1', '?'], t('app.help.key.help', {})],
    [['Esc'], t('app.help.key.escape', {})],
  ]
  return (
    <Dialog open={open} onClose={onClose} title={t('app.help.title', {})} wide>
      <section className={styles.part}>
        <h3>{t('app.help.limits', {})}</h3>
        <p className={styles.limits}>{t('app.help.limits_text', {})}</p>
      </section>
      <div className={styles.columns}>
        <section className={styles.part}>
          <h3>{t('app.help.cautions', {})}</h3>
          <ul className={styles.cautions}>
            <li>{t('app.help.caution.height', {})}</li>
            <li>{t('app.help.caution.rules', {})}</li>
            <li>{t('app.help.caution.hazard', {})}</li>
            <li>{t('app.help.caution.machines', {})}</li>
            <li>{t('app.help.caution.instruments', {})}</li>
          </ul>
          <p className={styles.small}>{t('app.help.cautions_run', {})}</p>
        </section>
        <section className={styles.part}>
          <h3>{t('app.help.keys', {})}</h3>
          <dl className={styles.keys}>
            {keys.map(([presses, what]) => (
              <div key={what}>
                <dt>
                  {presses.map((press) => (
                    <kbd key={press}>{press}</kbd>
                  ))}
                </dt>
                <dd>{what}</dd>
              </div>
            ))}
          </dl>
        </section>
      </div>
      <p className={styles.small}>
        {t('app.name', {})} · {t('app.help.version', { version: files?.version ?? '' })}
      </p>
    </Dialog>
  )
}
