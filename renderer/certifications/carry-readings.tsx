import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { Entity } from '#core/model/entities.ts'
import type { FilterResult, RunResult } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { api, orpc } from '../app/client.ts'
import { newCommand, useCanChange, useSay } from '../app/session.tsx'
import { useRunStep } from '../app/use-run-step.ts'
import { Busy } from '../ui/busy.tsx'
import { Button, IconButton } from '../ui/button.tsx'
import { Checkbox } from '../ui/checkbox.tsx'
import { Segmented } from '../ui/segmented.tsx'
import { TextField } from '../ui/text-field.tsx'
import { carryCandidates, carrySource, stateDiffers, withCarriedGroup } from './carried.ts'
import styles from './steps.module.css'

type Run = Entity<'run'>

/** Terminals of an as-left run that stand as they were found, with one written reason for the group. */
export function CarryReadings({ run, here }: { run: Run; here: readonly Run[] }) {
  const t = useSay()
  const source = carrySource(run, here)
  const left = useQuery(orpc.evaluation.run.queryOptions({ input: { runId: run.id } }))
  const found = useQuery(orpc.evaluation.run.queryOptions({ input: { runId: source?.id ?? run.id } }))
  return (
    <section className={styles.step} aria-label={t('asleft.carry', {})}>
      <p className={styles.quiet}>{t('asleft.carry.about', {})}</p>
      {source === null ? (
        <p>{t('asleft.carry.no_source', {})}</p>
      ) : left.data && found.data ? (
        <>
          <CarriedGroups run={run} filters={left.data.filters} />
          <CarryForm key={run.revision} run={run} source={source} found={found.data} left={left.data} />
        </>
      ) : (
        <Busy label={t('certifications.loading', {})} />
      )}
    </section>
  )
}

function CarriedGroups({ run, filters }: { run: Run; filters: readonly FilterResult[] }) {
  const t = useSay()
  const canChange = useCanChange()
  const step = useRunStep(() => undefined)
  return run.body.carried.map((group) => (
    <div key={`${group.fromRunId} ${group.terminalIds.join()}`} className={styles.given}>
      <div>
        <p>{t('asleft.carry.given', { reason: group.reason })}</p>
        <ul>
          {filters
            .filter(({ terminalId }) => group.terminalIds.includes(terminalId))
            .map((filter) => (
              <CarriedTerminal key={filter.terminalId} filter={filter} />
            ))}
        </ul>
      </div>
      <IconButton
        icon="close"
        label={t('asleft.carry.take_back', {})}
        disabled={step.busy || !canChange}
        onClick={() => {
          const set = { carried: run.body.carried.filter((other) => other !== group) }
          step.run(() => api.runs.edit({ command: newCommand(), runId: run.id, revision: run.revision, set }))
        }}
      />
    </div>
  ))
}

/** What a carried terminal stands on: its figures, and the points as they were found. */
function CarriedTerminal({ filter }: { filter: FilterResult }) {
  const t = useSay()
  const { tag, meanVelocityMps, flowM3ps, pointMeansMps } = filter
  const means = pointMeansMps.flatMap(({ meanMps }) => meanMps ?? [])
  return (
    <li>
      {t('asleft.carry.terminal', { tag, velocity: meanVelocityMps, flow: flowM3ps })}
      {means.length > 1 ? <span className={styles.points}>{t('asleft.carry.points', { means, of: filter })}</span> : null}
    </li>
  )
}

type CarryFormProps = { run: Run; source: Run; found: RunResult; left: RunResult }
type Moved = 'not_answered' | 'no' | 'yes'

function CarryForm({ run, source, found, left }: CarryFormProps) {
  const t = useSay()
  const canChange = useCanChange()
  const candidates = carryCandidates(found, left, run.body.carried)
  const [picked, setPicked] = useState<ReadonlySet<Uuid>>(new Set())
  const [reason, setReason] = useState('')
  const [moved, setMoved] = useState<Moved>('not_answered')
  const step = useRunStep(() => undefined)
  if (candidates.length === 0) return <p>{t('asleft.carry.nothing', {})}</p>
  const toggle = (id: Uuid, on: boolean) => setPicked(new Set(on ? [...picked, id] : [...picked].filter((one) => one !== id)))
  const carry = () => {
    const group = { terminalIds: [...picked], fromRunId: source.id, reason: reason.trim(), fanOrMainDamperMoved: moved !== 'no' }
    const command = newCommand(t('asleft.carry.command', { reason: reason.trim() }).slice(0, 1000))
    const set = { carried: withCarriedGroup(run.body.carried, group) }
    step.run(() => api.runs.edit({ command, runId: run.id, revision: run.revision, set }))
  }
  return (
    <>
      {stateDiffers(source.body, run.body) ? (
        <p role="status" className={styles.problem}>
          {t('asleft.carry.state_differs', { found: source.body.operatingState.airHandler, left: run.body.operatingState.airHandler })}
        </p>
      ) : null}
      <div className={styles.choice}>
        <span className={styles.label}>{t('asleft.carry.moved', {})}</span>
        <Segmented<Moved>
          large
          label={t('asleft.carry.moved', {})}
          value={moved}
          choices={[
            { value: 'no', label: t('asleft.carry.moved.no', {}) },
            { value: 'yes', label: t('asleft.carry.moved.yes', {}) },
          ]}
          onChange={setMoved}
        />
      </div>
      {moved === 'yes' ? (
        <p role="alert" className={styles.problem}>
          {t('asleft.carry.moved_refused', {})}
        </p>
      ) : null}
      {moved === 'no' ? (
        <>
          <div className={styles.picks}>
            {candidates.length > 1 ? (
              <Checkbox
                label={t('asleft.carry.all', {})}
                checked={picked.size === candidates.length}
                mixed={picked.size > 0 && picked.size < candidates.length}
                onChange={(on) => setPicked(new Set(on ? candidates.map(({ terminalId }) => terminalId) : []))}
              />
            ) : null}
            {candidates.map(({ terminalId, tag, meanVelocityMps, flowM3ps }) => (
              <Checkbox
                key={terminalId}
                label={t('asleft.carry.terminal', { tag, velocity: meanVelocityMps, flow: flowM3ps })}
                checked={picked.has(terminalId)}
                onChange={(on) => toggle(terminalId, on)}
              />
            ))}
          </div>
          <TextField
            label={t('asleft.carry.reason', {})}
            hint={t('asleft.carry.reason_hint', {})}
            value={reason}
            maxLength={900}
            onChange={setReason}
            error={step.problem}
          />
          <div className={styles.actions}>
            <Button large kind="primary" disabled={step.busy || !canChange || picked.size === 0 || reason.trim() === ''} onClick={carry}>
              {t('asleft.carry.go', { count: picked.size })}
            </Button>
          </div>
        </>
      ) : null}
    </>
  )
}
