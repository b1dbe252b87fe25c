import { useMemo } from 'react'
import { useLocation } from 'wouter'
import type { Entity } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import { api } from '../app/client.ts'
import { Gone } from '../app/gone.tsx'
import { newCommand, newId, useFailureText, useSay } from '../app/session.tsx'
import { useNoWhy } from '../app/why.tsx'
import { FormEntered } from '../forms/form-entered.tsx'
import { FormFoot } from '../forms/form-foot.tsx'
import forms from '../forms/forms.module.css'
import { type FormState, useForm } from '../forms/use-form.ts'
import { Busy } from '../ui/busy.tsx'
import { Button } from '../ui/button.tsx'
import { Checkbox } from '../ui/checkbox.tsx'
import { Panel, ScreenHead } from '../ui/panel.tsx'
import { Segmented } from '../ui/segmented.tsx'
import { TextField } from '../ui/text-field.tsx'
import { useToast } from '../ui/toast.tsx'
import { CalibrationMark } from './calibration-mark.tsx'
import { Certificates } from './certificates.tsx'
import { HoodFactorFields } from './hood-factor-fields.tsx'
import { IndicationFields } from './indication-fields.tsx'
import {
  feelsDirection,
  formOfInstrument,
  type InstrumentForm,
  instrumentOfForm,
  instrumentProblems,
  NEW_INSTRUMENT,
} from './instrument-form.ts'
import styles from './instruments.module.css'
import { RecalculationPanels } from './recalculation-panels.tsx'
import { SensedFields } from './sensed-fields.tsx'
import { type KnownInstrument, useInstruments } from './use-instruments.ts'

const NEW = 'new'
/** where the readings in doubt stand on the page */
const DOUBTS = 'readings-in-doubt'

/** One instrument: what it measures and how well, and its certificates. */
export function InstrumentScreen({ instrumentId }: { instrumentId: Uuid }) {
  useNoWhy()
  const t = useSay()
  const failureText = useFailureText()
  const { instruments, error } = useInstruments()
  if (error) return <p role="alert">{failureText(error)}</p>
  if (!instruments) return <Busy label={t('app.loading', {})} />
  const known = instruments.find((one) => one.instrument.id === instrumentId) ?? null
  if (!known && instrumentId !== NEW) return <Gone icon="gauge" title={t('instruments.gone', {})} to="instruments" />
  return <InstrumentEditor known={known} />
}

function InstrumentEditor({ known }: { known: KnownInstrument | null }) {
  const t = useSay()
  const form = useInstrumentForm(known?.instrument ?? null)
  return (
    <div className={styles.screen}>
      <ScreenHead
        title={known?.instrument.body.name ?? t('instruments.new', {})}
        about={known ? <Standing known={known} /> : t('instruments.about', {})}
      />
      <div className={styles.columns}>
        <div className={forms.stack}>
          <Panel title={t('instruments.what_it_is', {})}>
            <OwnFields form={form} />
          </Panel>
          <Panel title={t('instruments.measures', {})}>
            <SensedFields form={form} />
          </Panel>
          <Panel title={t('instruments.indication', {})}>
            <IndicationFields form={form} />
          </Panel>
          {form.form.hoodFactors.length > 0 || form.form.senses.some(({ quantity }) => quantity === 'flow') ? (
            <Panel title={t('instruments.hood', {})}>
              <HoodFactorFields form={form} />
            </Panel>
          ) : null}
          <FormFoot form={form} isNew={known === null} />
        </div>
        <div className={forms.stack}>
          <Certificates known={known} />
          {known && known.doubts.length > 0 ? (
            <div id={DOUBTS} className={forms.stack} tabIndex={-1}>
              <RecalculationPanels instrumentId={known.instrument.id} />
            </div>
          ) : null}
        </div>
      </div>
    </div>
  )
}

/** How its calibration stands, and the way to its readings in doubt. */
function Standing({ known }: { known: KnownInstrument }) {
  const t = useSay()
  return (
    <span className={styles.list}>
      <CalibrationMark state={known.state} long />
      {known.doubts.map(({ certificateNumber }) => (
        <Button key={certificateNumber} kind="link" onClick={() => document.getElementById(DOUBTS)?.focus()}>
          {t('instruments.doubt_long', { certificate: certificateNumber })}
        </Button>
      ))}
    </span>
  )
}

function useInstrumentForm(instrument: Entity<'instrument'> | null): FormState<InstrumentForm> {
  const t = useSay()
  const toast = useToast()
  const [, go] = useLocation()
  const start = useMemo(() => (instrument ? formOfInstrument(instrument.body) : NEW_INSTRUMENT), [instrument])
  return useForm({
    key: `instrument ${instrument?.id ?? NEW}`,
    start,
    check: instrumentProblems,
    submit: async (form) => {
      const body = instrumentOfForm(form)
      if (!body) return
      const id = instrument?.id ?? newId()
      const change = { kind: 'instrument', id, parentId: null, revision: instrument?.revision ?? null, body } as const
      await api.entities.change({ command: newCommand(), name: instrument ? 'edit' : 'create', scope: 'project', changes: [change] })
      toast.note(t('instruments.saved', { name: body.name }))
      if (!instrument) go(`/instruments/${id}`, { replace: true })
    },
  })
}

function OwnFields({ form }: { form: FormState<InstrumentForm> }) {
  const t = useSay()
  const { name, serialNumber, sensing, reportsReverseFlow, averagingTime, active, note } = form.form
  return (
    <div className={forms.grid}>
      <TextField
        className={forms.double}
        label={t('instruments.name', {})}
        value={name}
        maxLength={120}
        onChange={(next) => form.set({ name: next })}
        error={form.problem('name')}
      />
      <TextField
        label={t('instruments.serial', {})}
        value={serialNumber}
        maxLength={120}
        onChange={(next) => form.set({ serialNumber: next })}
        error={form.problem('serialNumber')}
      />
      <FormEntered
        form={form}
        path="averagingTimeS"
        label={t('instruments.averaging', {})}
        hint={t('instruments.averaging_hint', {})}
        unit="s"
        value={averagingTime}
        onChange={(next) => form.set({ averagingTime: next })}
      />
      {feelsDirection(form.form) ? <SensingField value={sensing} onChange={(next) => form.set({ sensing: next })} /> : null}
      <div className={`${forms.whole} ${forms.checks}`}>
        <Checkbox
          label={t('instruments.reverse', {})}
          checked={reportsReverseFlow}
          onChange={(next) => form.set({ reportsReverseFlow: next })}
        />
        <Checkbox label={t('instruments.active', {})} checked={active} onChange={(next) => form.set({ active: next })} />
      </div>
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

type SensingFieldProps = { value: InstrumentForm['sensing']; onChange: (next: InstrumentForm['sensing']) => void }

function SensingField({ value, onChange }: SensingFieldProps) {
  const t = useSay()
  return (
    <div className={forms.whole}>
      <p className={styles.question}>{t('instruments.sensing', {})}</p>
      <Segmented
        label={t('instruments.sensing', {})}
        value={value}
        choices={[
          { value: 'directional', label: t('instruments.sensing.directional', {}) },
          { value: 'omnidirectional', label: t('instruments.sensing.omnidirectional', {}) },
          { value: 'not_directional', label: t('instruments.sensing.not_directional', {}) },
        ]}
        onChange={onChange}
      />
      <p className={styles.hint}>{t('instruments.sensing_hint', {})}</p>
    </div>
  )
}
