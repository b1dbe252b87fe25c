import { useSay, useSentence } from '../app/session.tsx'
import { Button } from '../ui/button.tsx'
import { TextField } from '../ui/text-field.tsx'
import type { PastePlan } from './paste-plan.ts'
import type { Way } from './run-plan.ts'
import styles from './side-panel.module.css'

type PastePanelProps = {
  tag: string
  way: Way
  text: string
  onText: (text: string) => void
  plan: PastePlan | null
  onSave: () => void
  onClose: () => void
}

/** How a block is laid, in words. */
function layCode(way: Way) {
  if (way === 'duct_traverse') return 'ways.paste.duct'
  return way === 'hood' || way === 'flow_element' ? 'ways.paste.whole' : 'readings.paste.lay'
}

/** A block of a spreadsheet before it is saved; its numbers lie on the face meanwhile, marked as not saved. */
export function PastePanel({ tag, way, text, onText, plan, onSave, onClose }: PastePanelProps) {
  const t = useSay()
  const sentence = useSentence()
  const count = plan?.values.length ?? 0
  return (
    <section className={styles.panel} aria-label={t('readings.tool.paste', {})}>
      <p className={styles.title}>{count > 0 ? t('readings.paste.title', { count }) : t('readings.tool.paste', {})}</p>
      <TextField
        label={t('readings.paste.field', {})}
        value={text}
        onChange={onText}
        lines={4}
        autoFocus={text === ''}
        hint={text === '' ? t('readings.paste.how', {}) : t(layCode(way), { tag })}
        onKeyDown={(event) => {
          if (event.key === 'Escape') onClose()
        }}
      />
      {plan ? (
        <div className={styles.list} role="status">
          {plan.moreFilters > 0 ? <p>{t('readings.paste.more', { filters: plan.moreFilters })}</p> : null}
          {plan.replaces > 0 ? <p>{t('readings.paste.replaces', { count: plan.replaces })}</p> : null}
          {plan.otherShape ? <p className={styles.remark}>{t('readings.paste.other_shape', {})}</p> : null}
          {plan.questioned.size > 0 ? (
            <p className={styles.remark}>{t('readings.paste.questioned', { count: plan.questioned.size })}</p>
          ) : null}
          {plan.leftOver > 0 ? <p className={styles.problem}>{t('readings.paste.left_over', { count: plan.leftOver })}</p> : null}
          {plan.problems.length > 0 ? (
            <p className={styles.problem}>{t('readings.paste.problems', { count: plan.problems.length })}</p>
          ) : null}
          {plan.problems.slice(0, 3).map((problem) => (
            <p key={problem.text} className={styles.problem}>
              {t('readings.paste.problem_at', { typed: problem.text, why: sentence(problem.why) })}
            </p>
          ))}
        </div>
      ) : null}
      <div className={styles.actions}>
        <Button large kind="primary" disabled={count === 0 || (plan?.problems.length ?? 0) > 0} onClick={onSave}>
          {t('readings.paste.save', {})}
        </Button>
        <Button large kind="quiet" onClick={onClose}>
          {t('app.cancel', {})}
        </Button>
      </div>
    </section>
  )
}
