import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { MissingFilter } from '#core/history/outstanding.ts'
import type { Entity } from '#core/model/entities.ts'
import type { RunResult } from '#core/model/results.ts'
import { MissingReason } from '#core/model/runs.ts'
import type { Uuid } from '#core/model/values.ts'
import { api, orpc } from '../app/client.ts'
import { newCommand, useSay } from '../app/session.tsx'
import { useRunStep } from '../app/use-run-step.ts'
import { Busy } from '../ui/busy.tsx'
import { Button, IconButton } from '../ui/button.tsx'
import { Checkbox } from '../ui/checkbox.tsx'
import { Segmented } from '../ui/segmented.tsx'
import { TextField } from '../ui/text-field.tsx'
import { CarryReadings } from './carry-readings.tsx'
import { countsOf, leftOpen } from './left-open.ts'
import { withReason } from './missing-points.ts'
import styles from './steps.module.css'

type Cause = Entity<'run'>['body']['missing'][number]['cause']
const CAUSES = MissingReason.shape.cause.options

type CompleteRunProps = { run: Entity<'run'> /** runs of this room in this visit */; here: readonly Entity<'run'>[]; onDone: () => void }

/** Ends the measuring of a run. Points left out need a reason; one reason may serve a group of filters. */
export function CompleteRun({ run, here, onDone }: CompleteRunProps) {
  const t = useSay()
  const result = useQuery(orpc.evaluation.run.queryOptions({ input: { runId: run.id } }))
  if (!result.data) return <Busy label={t('certifications.loading', {})} />
  return <CompleteForm run={run} here={here} result={result.data} onDone={onDone} />
}

function CompleteForm({ run, here, result, onDone }: CompleteRunProps & { result: RunResult }) {
  const t = useSay()
  const complete = useRunStep(onDone)
  const reasons = run.body.missing
  const missing = leftOpen(result, reasons)
  const tagOf = (id: Uuid) =>
    result.filters.find((filter) => filter.terminalId === id)?.tag ?? result.zones.find((zone) => zone.zoneId === id)?.name ?? ''
  const asLeft = run.body.phase === 'as_left' && result.filters.length > 0
  return (
    <section className={styles.step} aria-label={t('certifications.complete.title', {})}>
      {asLeft ? (
        <>
          <p>{t('ways.complete.all_again', {})}</p>
          <p>
            <strong>{t('ways.complete.counts', countsOf(result, reasons))}</strong>
          </p>
          {missing.length > 0 ? (
            <details>
              <summary className={styles.summary}>{t('ways.complete.carry', {})}</summary>
              <CarryReadings run={run} here={here} />
            </details>
          ) : null}
        </>
      ) : null}
      {reasons.map((reason) => (
        <GivenReason key={reason.terminalIds.join()} run={run} reason={reason} tagOf={tagOf} />
      ))}
      {missing.length > 0 ? (
        <MissingForm key={missing.map((filter) => filter.terminalId).join()} run={run} missing={missing} />
      ) : (
        <p>{t('certifications.complete.ready', {})}</p>
      )}
      {complete.problem ? (
        <p role="alert" className={styles.problem}>
          {complete.problem}
        </p>
      ) : null}
      <div className={styles.actions}>
        <Button
          large
          kind="primary"
          disabled={complete.busy || missing.length > 0}
          onClick={() => complete.run(() => api.runs.complete({ command: newCommand(), runId: run.id, revision: run.revision }))}
        >
          {t('certifications.complete.go', {})}
        </Button>
        <Button large kind="quiet" onClick={onDone}>
          {t('app.cancel', {})}
        </Button>
      </div>
    </section>
  )
}

function MissingForm({ run, missing }: { run: Entity<'run'>; missing: readonly MissingFilter[] }) {
  const t = useSay()
  const [first] = missing
  const isPlane = run.body.method === 'plane_velocity_grid'
  const [picked, setPicked] = useState<ReadonlySet<Uuid>>(() => new Set(missing.map((filter) => filter.terminalId)))
  const [cause, setCause] = useState<Cause>('inaccessible')
  const [note, setNote] = useState('')
  const step = useRunStep(() => setNote(''))
  const noteMissing = cause === 'other' && note.trim() === ''
  const give = () => {
    const set = { missing: withReason(run.body.missing, { terminalIds: [...picked], cause, note: note.trim() }) }
    step.run(() => api.runs.edit({ command: newCommand(), runId: run.id, revision: run.revision, set }))
  }
  const toggle = (id: Uuid, on: boolean) => {
    const next = new Set(picked)
    if (on) next.add(id)
    else next.delete(id)
    setPicked(next)
  }
  return (
    <>
      <p>
        {first && isPlane
          ? t('ways.complete.plane', { zone: first.tag, measured: first.measured, planned: first.planned })
          : t('certifications.complete.missing', { filters: missing.length })}
      </p>
      <div className={styles.picks}>
        {missing.length > 1 ? (
          <Checkbox
            label={t('certifications.complete.all', {})}
            checked={picked.size === missing.length}
            mixed={picked.size > 0 && picked.size < missing.length}
            onChange={(on) => setPicked(new Set(on ? missing.map((filter) => filter.terminalId) : []))}
          />
        ) : null}
        {(isPlane ? [] : missing).map((filter) => (
          <Checkbox
            key={filter.terminalId}
            label={t('certifications.complete.missing_one', filter)}
            checked={picked.has(filter.terminalId)}
            onChange={(on) => toggle(filter.terminalId, on)}
          />
        ))}
      </div>
      <Segmented
        large
        label={t('certifications.complete.cause', {})}
        value={cause}
        choices={CAUSES.map((value) => ({ value, label: t(`certifications.cause.${value}`, {}) }))}
        onChange={setCause}
      />
      <TextField
        label={t('certifications.complete.note', {})}
        value={note}
        onChange={setNote}
        maxLength={1000}
        error={step.problem}
        hint={noteMissing ? t('certifications.complete.note_needed', {}) : undefined}
      />
      <div className={styles.actions}>
        <Button large disabled={step.busy || picked.size === 0 || noteMissing} onClick={give}>
          {t('certifications.complete.give_reason', { count: picked.size })}
        </Button>
      </div>
    </>
  )
}

type GivenReasonProps = { run: Entity<'run'>; reason: Entity<'run'>['body']['missing'][number]; tagOf: (id: Uuid) => string }

function GivenReason({ run, reason, tagOf }: GivenReasonProps) {
  const t = useSay()
  const step = useRunStep(() => undefined)
  const takeBack = () => {
    const set = { missing: run.body.missing.filter((other) => other !== reason) }
    step.run(() => api.runs.edit({ command: newCommand(), runId: run.id, revision: run.revision, set }))
  }
  const cause = t(`certifications.cause.${reason.cause}`, {})
  return (
    <p className={styles.given}>
      {t('certifications.complete.given', { cause, tags: reason.terminalIds.map(tagOf).join(', '), note: reason.note })}
      <IconButton icon="close" label={t('certifications.complete.take_back', {})} disabled={step.busy} onClick={takeBack} />
      {step.problem ? <span role="alert">{step.problem}</span> : null}
    </p>
  )
}
