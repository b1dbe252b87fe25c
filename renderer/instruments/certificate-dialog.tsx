import { useMemo } from 'react'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import { api } from '../app/client.ts'
import { newCommand, newId, useCanChange, useSay } from '../app/session.tsx'
import { FormEntered } from '../forms/form-entered.tsx'
import forms from '../forms/forms.module.css'
import { type FormState, useForm } from '../forms/use-form.ts'
import { Button } from '../ui/button.tsx'
import { Checkbox } from '../ui/checkbox.tsx'
import { Dialog } from '../ui/dialog.tsx'
import { Select } from '../ui/select.tsx'
import { TextField } from '../ui/text-field.tsx'
import { type CalibrationForm, calibrationOfForm, calibrationProblems, formOfCalibration, NEW_CALIBRATION } from './calibration-form.ts'
import { StatedFields } from './evidence-fields.tsx'
import styles from './instruments.module.css'
import { PointFields } from './point-fields.tsx'
import { useQuantityChoices } from './quantity-choices.ts'
import { type UnitOf, useUnitOf } from './use-unit-of.ts'

type CertificateDialogProps = {
  instrument: Entity<'instrument'>
  certificate: Entity<'calibration'> | null
  onClose: () => void
}

export function CertificateDialog({ instrument, certificate, onClose }: CertificateDialogProps) {
  const t = useSay()
  const canChange = useCanChange()
  const start = useMemo(() => (certificate ? formOfCalibration(certificate.body) : NEW_CALIBRATION), [certificate])
  const form = useForm({
    key: `calibration ${certificate?.id ?? `of ${instrument.id}`}`,
    start,
    check: calibrationProblems,
    submit: async (next) => {
      const id = certificate?.id ?? newId()
      const revision = certificate?.revision ?? null
      const change = { kind: 'calibration', id, parentId: instrument.id, revision, body: calibrationOfForm(next) } as const
      await api.entities.change({ command: newCommand(), name: certificate ? 'edit' : 'create', scope: 'project', changes: [change] })
      onClose()
    },
  })
  const title = certificate
    ? t('instruments.certificate_edit', { number: certificate.body.certificateNumber })
    : t('instruments.certificate_new', {})
  return (
    <Dialog
      open
      wide
      onClose={onClose}
      title={title}
      actions={
        <>
          <Button onClick={onClose}>{t('app.cancel', {})}</Button>
          <Button kind="primary" disabled={form.busy || !canChange} onClick={() => void form.submit()}>
            {t('app.save', {})}
          </Button>
        </>
      }
    >
      <CertificateFields form={form} instrument={instrument.body} />
    </Dialog>
  )
}

function CertificateFields({ form, instrument }: { form: FormState<CalibrationForm>; instrument: EntityBody<'instrument'> }) {
  const t = useSay()
  const unitOf = useUnitOf(instrument.senses)
  const { certificateNumber, laboratory, calibratedOn, dueOn, found, isNarrower, releaseNumber, releaseReason, note } = form.form
  return (
    <div className={forms.grid}>
      <TextField
        label={t('instruments.certificate', {})}
        value={certificateNumber}
        maxLength={120}
        autoFocus
        onChange={(next) => form.set({ certificateNumber: next })}
        error={form.problem('certificateNumber')}
      />
      <TextField
        className={styles.rest}
        label={t('instruments.laboratory', {})}
        value={laboratory}
        maxLength={200}
        onChange={(next) => form.set({ laboratory: next })}
      />
      <TextField
        label={t('instruments.calibrated_on', {})}
        type="date"
        value={calibratedOn}
        onChange={(next) => form.set({ calibratedOn: next })}
        error={form.problem('calibratedOn')}
      />
      <TextField
        label={t('instruments.due_on', {})}
        type="date"
        hint={t('instruments.due_hint', {})}
        value={dueOn}
        onChange={(next) => form.set({ dueOn: next })}
        error={form.problem('dueOn')}
      />
      <Select
        className={forms.double}
        label={t('instruments.found', {})}
        value={found}
        choices={[
          { value: 'yes', label: t('instruments.found.yes', {}) },
          { value: 'no', label: t('instruments.found.no', {}) },
          { value: 'not_stated', label: t('instruments.found.not_stated', {}) },
        ]}
        hint={found === 'no' ? t('instruments.found_no_text', {}) : ''}
        onChange={(next) => form.set({ found: next })}
      />
      <Checkbox
        className={forms.whole}
        label={t('instruments.narrower', {})}
        checked={isNarrower}
        onChange={(next) => form.set({ isNarrower: next })}
      />
      {isNarrower ? <RangeFields form={form} unitOf={unitOf} /> : null}
      <div className={forms.whole}>
        <PointFields form={form} corrects={instrument.correctsByPoints} unitOf={unitOf} />
        <StatedFields form={form} unitOf={unitOf} />
      </div>
      <div className={forms.whole}>
        <h3 className={styles.part}>{t('instruments.release', {})}</h3>
        <p className={styles.hint}>{t('instruments.release_hint', {})}</p>
      </div>
      <TextField
        label={t('instruments.release_number', {})}
        value={releaseNumber}
        maxLength={120}
        onChange={(next) => form.set({ releaseNumber: next })}
        error={form.problem('release.number')}
      />
      <TextField
        className={styles.rest}
        label={t('instruments.release_reason', {})}
        value={releaseReason}
        maxLength={1000}
        onChange={(next) => form.set({ releaseReason: next })}
        error={form.problem('release.reason')}
      />
      <TextField
        className={forms.whole}
        label={t('instruments.note', {})}
        value={note}
        lines={2}
        maxLength={4000}
        onChange={(next) => form.set({ note: next })}
      />
    </div>
  )
}

function RangeFields({ form, unitOf }: { form: FormState<CalibrationForm>; unitOf: UnitOf }) {
  const t = useSay()
  const choices = useQuantityChoices()
  const { rangeQuantity, low, high } = form.form
  return (
    <>
      <Select
        label={t('instruments.quantity', {})}
        value={rangeQuantity}
        choices={choices}
        onChange={(next) => form.set({ rangeQuantity: next, low: null, high: null })}
      />
      <FormEntered
        form={form}
        path="range.low"
        key={`low ${rangeQuantity}`}
        label={t('instruments.low', {})}
        unit={low?.unit ?? unitOf(rangeQuantity)}
        value={low}
        onChange={(next) => form.set({ low: next })}
      />
      <FormEntered
        form={form}
        path="range.high"
        key={`high ${rangeQuantity}`}
        label={t('instruments.high', {})}
        unit={high?.unit ?? low?.unit ?? unitOf(rangeQuantity)}
        value={high}
        onChange={(next) => form.set({ high: next })}
      />
    </>
  )
}
