import { useCanChange, useSay } from '../app/session.tsx'
import { Button } from '../ui/button.tsx'
import styles from './forms.module.css'
import type { FormState } from './use-form.ts'

/** Save and revert, in sight while something is not saved yet. */
export function FormFoot<Form extends object>({ form, isNew, saveLabel }: { form: FormState<Form>; isNew: boolean; saveLabel?: string }) {
  const t = useSay()
  const canChange = useCanChange()
  if (!form.changed && !isNew) return null
  return (
    <div className={styles.foot}>
      <span className={styles.state} role="status">
        {form.problemCount > 0 ? t('instruments.form.problems', { count: form.problemCount }) : t('instruments.form.unsaved', {})}
      </span>
      {form.changed ? <Button onClick={form.revert}>{t('instruments.form.revert', {})}</Button> : null}
      <Button kind="primary" disabled={form.busy || !canChange} onClick={() => void form.submit()}>
        {saveLabel ?? t('app.save', {})}
      </Button>
    </div>
  )
}
