import { useState } from 'react'
import { Link } from 'wouter'
import type { Entity } from '#core/model/entities.ts'
import type { RunSummary } from '#core/model/results.ts'
import { useCanChange, useSay, useSentence } from '../app/session.tsx'
import { Button } from '../ui/button.tsx'
import { Icon } from '../ui/icon.tsx'
import { VerdictMark } from '../ui/verdict-mark.tsx'
import { Attachments } from './attachments.tsx'
import { carriedCount } from './carried.ts'
import { CarryReadings } from './carry-readings.tsx'
import styles from './certifications.module.css'
import { CompleteRun } from './complete-run.tsx'
import { ReopenRun } from './reopen-run.tsx'
import { RepeatsStep } from './repeats-step.tsx'
import { SignRun } from './sign-run.tsx'
import { Signatures } from './signatures.tsx'

type Step = 'complete' | 'sign' | 'reopen' | 'attach' | 'carry' | 'repeats' | null
type RunLineProps = {
  run: Entity<'run'>
  /** runs of this room in this visit */
  here: readonly Entity<'run'>[]
  summary: RunSummary
  room: Entity<'room'>
  zoneName: string | null
  alone: boolean
}

/** One run: as found or as left, how far it is, what it says, and what can be done with it now. */
export function RunLine({ run, here, summary, room, zoneName, alone }: RunLineProps) {
  const t = useSay()
  const sentence = useSentence()
  const canChange = useCanChange()
  const [step, setStep] = useState<Step>(null)
  const toggle = (wanted: Step) => setStep(step === wanted ? null : wanted)
  const { state, phase } = run.body
  const carried = carriedCount(run.body)
  const close = () => setStep(null)
  return (
    <li className={styles.run} data-current={summary.current ? '' : undefined}>
      <div className={styles.runHead}>
        <div className={styles.roomName}>
          <span className={styles.runName}>
            <VerdictMark verdict={summary.verdict} />
            <strong>{t('certifications.run.phase', { phase })}</strong>
            {run.body.method === 'face_velocity_grid' ? null : <span>{t(`ways.start.${run.body.method}`, {})}</span>}
            {zoneName ? <span>{t('certifications.run.zone', { zone: zoneName })}</span> : null}
            <span className={styles.state} data-state={state}>
              {state === 'signed' ? <Icon name="lock" size={13} /> : null}
              {t(`certifications.run.state.${state}`, {})}
            </span>
            <span className={styles.quiet}>
              {t('certifications.run.points', { measured: summary.pointsMeasured, planned: summary.pointsPlanned })}
            </span>
            {summary.samplesLacking > 0 ? (
              <span className={styles.retested}>{t('certifications.run.samples_lacking', { lacking: summary.samplesLacking })}</span>
            ) : null}
            {carried > 0 ? <span className={styles.headline}>{t('asleft.carried_count', { count: carried })}</span> : null}
            {summary.current ? null : <span className={styles.quiet}>{t('certifications.run.superseded', { state, phase })}</span>}
          </span>
          {/* A room with one run says the same already. */}
          {alone ? null : <span className={styles.headline}>{sentence(summary.headline)}</span>}
          <Signatures signatures={summary.signatures} />
        </div>
        {/* What only some runs offer comes first, so that the steps of all runs stand below one another. */}
        <div className={styles.steps}>
          {summary.repeats > 0 ? (
            <Button large kind="quiet" pressed={step === 'repeats'} onClick={() => toggle('repeats')}>
              {t('asleft.repeats', { count: summary.repeats })}
            </Button>
          ) : null}
          {state === 'open' && phase === 'as_left' ? (
            <Button large kind="quiet" icon="replaced" pressed={step === 'carry'} disabled={!canChange} onClick={() => toggle('carry')}>
              {t('asleft.carry', {})}
            </Button>
          ) : null}
          {state === 'complete' ? (
            <Button large kind="quiet" pressed={step === 'reopen'} disabled={!canChange} onClick={() => toggle('reopen')}>
              {t('certifications.run.reopen', {})}
            </Button>
          ) : null}
          <Button large kind="quiet" icon="file" pressed={step === 'attach'} onClick={() => toggle('attach')}>
            {t('certifications.run.attach', {})}
          </Button>
          {state === 'open' ? (
            <Button large pressed={step === 'complete'} disabled={!canChange} onClick={() => toggle('complete')}>
              {t('certifications.run.complete', {})}
            </Button>
          ) : (
            <Button large pressed={step === 'sign'} disabled={!canChange} onClick={() => toggle('sign')}>
              {t('certifications.run.sign', {})}
            </Button>
          )}
          <Link
            href={`/run/${run.id}`}
            className={styles.go}
            data-primary={state === 'open' ? '' : undefined}
            aria-label={`${state === 'open' ? t('certifications.run.measure', {}) : t('certifications.run.look', {})}: ${t('certifications.run.names', { room: room.body.number, phase })}`}
          >
            {state === 'open' ? t('certifications.run.measure', {}) : t('certifications.run.look', {})}
          </Link>
        </div>
      </div>
      {step === 'complete' ? <CompleteRun run={run} here={here} onDone={close} /> : null}
      {step === 'sign' ? <SignRun run={run} onDone={close} /> : null}
      {step === 'reopen' ? <ReopenRun run={run} onDone={close} /> : null}
      {step === 'carry' ? <CarryReadings run={run} here={here} /> : null}
      {step === 'repeats' ? <RepeatsStep runId={run.id} /> : null}
      {step === 'attach' ? <Attachments runId={run.id} /> : null}
    </li>
  )
}
