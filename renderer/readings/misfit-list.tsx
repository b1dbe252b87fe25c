import { useMemo, useState } from 'react'
import type { Misfit } from '#core/methods/airflow/suitability.ts'
import { api } from '../app/client.ts'
import { newCommand, useCanChange, useSay, useSentence, useSession } from '../app/session.tsx'
import { useRunStep } from '../app/use-run-step.ts'
import { Button } from '../ui/button.tsx'
import { Icon } from '../ui/icon.tsx'
import { TextField } from '../ui/text-field.tsx'
import styles from './misfit-list.module.css'
import { misfitsOfRun, openMisfits } from './misfits-of-run.ts'
import { PanelForm } from './panel-form.tsx'
import type { OpenRun } from './use-run-desk.ts'

const keyOf = ({ code, terminalId, instrumentId }: Misfit) => [code, terminalId, instrumentId].join(' ')

/** Found once for what is laid out and held, not with every key: a run may have hundreds of terminals. */
function useMisfits({ plan, hand: { of } }: OpenRun): Misfit[] {
  return useMemo(() => misfitsOfRun(plan, { of }), [plan, of])
}

/** What does not suit about the run and what is asked, each with the reason it goes on with. Nothing here holds up the typing. */
export function MisfitList({ open, onAnswering }: { open: OpenRun; onAnswering?: () => void }) {
  const t = useSay()
  const misfits = useMisfits(open)
  const [answering, setAnswering] = useState<string | null>(null)
  if (misfits.length === 0) return <p className={styles.quiet}>{t('ways.misfits.none', {})}</p>
  const weigh = (misfit: Misfit) => (misfit.acceptedBy ? 2 : misfit.weight === 'stops' ? 0 : 1)
  return (
    <>
      <ul className={styles.list}>
        {[...misfits]
          .sort((one, other) => weigh(one) - weigh(other))
          .map((misfit) => (
            <MisfitLine
              key={keyOf(misfit)}
              open={open}
              misfit={misfit}
              answering={answering === keyOf(misfit)}
              onAnswer={(now) => {
                if (now) onAnswering?.()
                setAnswering(now ? keyOf(misfit) : null)
              }}
            />
          ))}
      </ul>
      <p className={styles.quiet}>{t('ways.misfits.never_stops', {})}</p>
    </>
  )
}

type MisfitLineProps = { open: OpenRun; misfit: Misfit; answering: boolean; onAnswer: (answering: boolean) => void }

function MisfitLine({ open, misfit, answering, onAnswer }: MisfitLineProps) {
  const t = useSay()
  const sentence = useSentence()
  const canChange = useCanChange()
  const { people } = useSession()
  const { acceptedBy, weight } = misfit
  const may = canChange && open.plan.run.body.state === 'open'
  const name = people.find(({ id }) => id === acceptedBy?.personId)?.body.name ?? ''
  return (
    <li className={styles.line} data-weight={acceptedBy ? 'accepted' : weight}>
      <Icon name={acceptedBy ? 'check' : weight === 'stops' ? 'warn' : 'help'} size={18} />
      <div className={styles.text}>
        <p>{sentence(misfit.sentence)}</p>
        {acceptedBy ? (
          <p className={styles.quiet}>{t('ways.misfits.accepted', { name, at: acceptedBy.at, reason: acceptedBy.reason })}</p>
        ) : null}
        {answering ? (
          <Answer open={open} misfit={misfit} onClose={() => onAnswer(false)} />
        ) : may ? (
          <Button large={!acceptedBy} kind={acceptedBy ? 'quiet' : 'plain'} onClick={() => onAnswer(true)}>
            {acceptedBy ? t('ways.misfits.change', {}) : weight === 'stops' ? t('ways.misfits.go_on', {}) : t('ways.misfits.answer', {})}
          </Button>
        ) : null}
      </div>
    </li>
  )
}

function Answer({ open, misfit, onClose }: { open: OpenRun; misfit: Misfit; onClose: () => void }) {
  const t = useSay()
  const [reason, setReason] = useState(misfit.acceptedBy?.reason ?? '')
  const { plan } = open
  const written = reason.trim()
  const step = useRunStep(() => {
    open.reload()
    onClose()
  })
  const accept = () =>
    api.runs.acceptMisfit({
      command: newCommand(written),
      runId: plan.runId,
      revision: plan.run.revision,
      misfit: { code: misfit.code, terminalId: misfit.terminalId, instrumentId: misfit.instrumentId, reason: written },
    })
  return (
    <PanelForm save={t('ways.misfits.save', {})} able={written !== ''} step={step} onSave={() => step.run(accept)} onClose={onClose}>
      <TextField
        large
        autoFocus
        label={misfit.weight === 'stops' ? t('ways.misfits.reason', {}) : t('ways.misfits.reply', {})}
        value={reason}
        onChange={setReason}
        maxLength={1000}
      />
    </PanelForm>
  )
}

/** One line beside the typing while something waits for a reason; it opens the panel where the reasons are written. */
export function MisfitLineShort({ open, onOpen }: { open: OpenRun; onOpen: () => void }) {
  const t = useSay()
  const counts = openMisfits(useMisfits(open))
  if (counts.stops === 0 || open.plan.run.body.state !== 'open') return null
  return (
    <Button large icon="warn" className={styles.short} onMouseDown={(event: React.MouseEvent) => event.preventDefault()} onClick={onOpen}>
      {t('ways.misfits.open', { ...counts, asks: 0 })}
    </Button>
  )
}
