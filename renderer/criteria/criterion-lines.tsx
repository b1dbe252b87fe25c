import { useState } from 'react'
import { useCanChange, useSay } from '../app/session.tsx'
import type { FormState } from '../forms/use-form.ts'
import { Button, IconButton } from '../ui/button.tsx'
import { Checkbox } from '../ui/checkbox.tsx'
import styles from './criteria.module.css'
import { CriterionFields } from './criterion-fields.tsx'
import { type CriterionDraft, criterionOfDraft, NEW_CRITERION } from './criterion-form.ts'
import { type SetForm, setProblems } from './set-form.ts'

/** The criteria of a set, a line each; a line opens into its fields. */
export function CriterionLines({ form }: { form: FormState<SetForm> }) {
  const t = useSay()
  const canChange = useCanChange()
  const { criteria } = form.form
  const [open, setOpen] = useState<number | null>(null)
  const wrong = form.problemCount > 0 ? setProblems(form.form) : []
  const change = (line: number, next: CriterionDraft | null) =>
    form.set({ criteria: criteria.flatMap((draft) => (draft.line === line ? (next ? [next] : []) : [draft])) })
  const add = () => {
    const line = 1 + Math.max(0, ...criteria.map((draft) => draft.line))
    form.set({ criteria: [...criteria, { ...NEW_CRITERION, line }] })
    setOpen(line)
  }
  return (
    <>
      {criteria.map((draft, index) => (
        <div key={draft.line}>
          <CriterionLine
            draft={draft}
            open={open === draft.line}
            wrong={wrong.some((problem) => problem.field.startsWith(`criteria.${index}.`))}
            onOpen={() => setOpen(open === draft.line ? null : draft.line)}
            onSwitch={(on) => change(draft.line, { ...draft, on })}
          />
          {open === draft.line ? (
            <CriterionFields form={form} draft={draft} index={index} onChange={(next) => change(draft.line, next)} />
          ) : null}
        </div>
      ))}
      <div className={styles.addRow}>
        <Button icon="add" disabled={!canChange} onClick={add}>
          {t('criteria.add', {})}
        </Button>
      </div>
    </>
  )
}

type CriterionLineProps = { draft: CriterionDraft; open: boolean; wrong: boolean; onOpen: () => void; onSwitch: (on: boolean) => void }

function CriterionLine({ draft, open, wrong, onOpen, onSwitch }: CriterionLineProps) {
  const t = useSay()
  const criterion = criterionOfDraft(draft)
  const title = draft.title.trim() || t('criteria.untitled', {})
  return (
    <div className={styles.criterion} data-open={open ? '' : undefined} data-off={draft.on ? undefined : ''}>
      <Checkbox
        label={<span className="visually-hidden">{t('criteria.on_named', { title })}</span>}
        checked={draft.on}
        onChange={onSwitch}
      />
      <div className={styles.criterionText}>
        <span className={styles.criterionTitle}>{title}</span>
        <span className={wrong ? styles.wrong : styles.criterionForm}>
          {criterion ? t('criteria.form_words', { form: criterion.form }) : t('criteria.no_limit', {})}
        </span>
        <span className={styles.criterionSmall}>{t('criteria.where_words', draft)}</span>
        <span className={styles.criterionSmall}>{draft.source || t('criteria.no_source', {})}</span>
      </div>
      <IconButton
        icon={open ? 'up' : 'edit'}
        label={open ? t('criteria.done', {}) : t('criteria.edit', { title })}
        aria-expanded={open}
        onClick={onOpen}
      />
    </div>
  )
}
