import { useEffect, useRef } from 'react'
import { api } from '../app/client.ts'
import { useSay, useSentence } from '../app/session.tsx'
import { Busy } from '../ui/busy.tsx'
import { Button } from '../ui/button.tsx'
import { Icon } from '../ui/icon.tsx'
import { Panel } from '../ui/panel.tsx'
import { findingsOf } from './findings.ts'
import { useJob } from './job.ts'
import styles from './project.module.css'

const FINDING_ICON = { ok: 'check', problem: 'warn', note: 'info' } as const

/** The check of the whole file, in words. */
export function CheckPanel({ startAtOnce }: { startAtOnce: boolean }) {
  const t = useSay()
  const sentence = useSentence()
  const { job, running, start, cancel } = useJob(() => api.jobs.startCheck())
  const asked = useRef(false)
  useEffect(() => {
    if (!startAtOnce || asked.current) return
    asked.current = true
    start()
  }, [startAtOnce, start])
  const told = job?.state === 'done' ? findingsOf(job.result) : null
  const findings = told ?? []
  const problems = findings.filter((finding) => finding.kind === 'problem').length
  const kindWord = {
    ok: t('projects.check.kind.ok', {}),
    problem: t('projects.check.kind.problem', {}),
    note: t('projects.check.kind.note', {}),
  }
  return (
    <Panel title={t('projects.check', {})}>
      <div className={styles.stack}>
        <p className={styles.about}>{t('projects.check_about', {})}</p>
        {running ? <Busy label={t('projects.check.running', {})} progress={job?.progress} /> : null}
        {job?.state === 'cancelled' ? <p>{t('projects.check.cancelled', {})}</p> : null}
        {job?.failure ? (
          <p role="alert" className={styles.problem}>
            {sentence(job.failure.sentence)}
          </p>
        ) : null}
        {job?.state === 'done' && told === null ? (
          <p role="alert" className={styles.problem}>
            {t('projects.check.unreadable', {})}
          </p>
        ) : null}
        {told ? (
          <div role="status" className={styles.stack}>
            <p className={problems > 0 ? styles.problem : styles.sound}>
              <Icon name={problems > 0 ? 'warn' : 'check'} />
              {problems > 0 ? t('projects.check.problems', { count: problems }) : t('projects.check.sound', {})}
            </p>
            <ul className={styles.findings}>
              {findings.map((finding) => (
                <li key={JSON.stringify(finding)} className={styles.finding} data-kind={finding.kind}>
                  <Icon name={FINDING_ICON[finding.kind]} size={16} />
                  <span className={styles.findingKind}>{kindWord[finding.kind]}</span>
                  <span>{sentence(finding.sentence)}</span>
                </li>
              ))}
            </ul>
          </div>
        ) : null}
        <div className={styles.actions}>
          {running ? (
            <Button onClick={cancel}>{t('projects.check.cancel', {})}</Button>
          ) : (
            <Button icon="check" onClick={start}>
              {job ? t('projects.check.again', {}) : t('projects.check.start', {})}
            </Button>
          )}
        </div>
      </div>
    </Panel>
  )
}
