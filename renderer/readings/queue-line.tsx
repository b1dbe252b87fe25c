import { useState, useSyncExternalStore } from 'react'
import { connection as link } from '../app/client.ts'
import { useSay, useSentence } from '../app/session.tsx'
import { useConnectionState } from '../app/use-connection-state.ts'
import { Button } from '../ui/button.tsx'
import { Icon } from '../ui/icon.tsx'
import { TextField } from '../ui/text-field.tsx'
import { countOf, type Outgoing } from './outgoing.ts'
import styles from './queue-line.module.css'
import type { RunDesk } from './run-desk.ts'

/**
 * How far everything typed has come: saved, on the way, waiting for the connection, or refused with its sentence. `quiet` keeps still while there
 * is nothing to tell, where nothing is typed any more.
 */
export function QueueLine({ desk, quiet }: { desk: RunDesk; quiet: boolean }) {
  const t = useSay()
  const sentence = useSentence()
  const outbox = useSyncExternalStore(desk.subscribe, desk.outbox)
  const connection = useConnectionState(link)
  if (quiet && outbox.items.length === 0) return null
  const refused = outbox.items.filter((item) => item.refused !== null)
  const waiting = countOf(outbox.items.filter((item) => item.refused === null))
  const down = waiting > 0 && (connection !== 'open' || outbox.stalled !== null)
  return (
    <>
      <p
        className={styles.state}
        data-state={refused.length > 0 ? 'refused' : down ? 'down' : waiting > 0 ? 'busy' : 'saved'}
        role="status"
      >
        <Icon name={refused.length > 0 || down ? 'warn' : waiting > 0 ? 'clock' : 'check'} size={16} />
        {refused.length > 0
          ? t('readings.queue.refused', { count: refused.length })
          : down
            ? t('readings.queue.stalled', { count: waiting })
            : waiting > 0
              ? t('readings.queue.waiting', { count: waiting })
              : t('readings.queue.saved', {})}
        {down && outbox.stalled?.sentence ? ` ${sentence(outbox.stalled.sentence)}` : ''}
      </p>
      {refused.map((item) => (
        <RefusedItem key={item.commandId} desk={desk} item={item} />
      ))}
    </>
  )
}

/** A figure that the project did not take: its sentence, the way to send it again (with the reason it asks for), and to give it up. */
function RefusedItem({ desk, item }: { desk: RunDesk; item: Outgoing }) {
  const t = useSay()
  const sentence = useSentence()
  const [reason, setReason] = useState('')
  const plan = desk.plan()
  const why = item.refused ? sentence(item.refused) : ''
  const asksWhy = item.refused?.code.startsWith('error.reason_needed') ?? false
  const entry = item.kind === 'record' ? item.entries[0] : null
  const filter = entry ? plan.filterOf.get(plan.terminalOfPoint.get(entry.point) ?? '') : null
  const order = entry && filter ? filter.points.findIndex((point) => point.number === entry.point) + 1 : 0
  return (
    <form
      className={styles.refused}
      onSubmit={(event) => {
        event.preventDefault()
        desk.retry(item.commandId, asksWhy ? reason.trim() : undefined)
      }}
    >
      <p>
        {entry
          ? t('readings.queue.refused_at', { tag: filter?.terminal.body.tag ?? '', order, value: entry.typed, why })
          : t('readings.queue.refused_step', { why })}
      </p>
      {asksWhy ? <TextField large label={t('readings.queue.reason', {})} value={reason} onChange={setReason} maxLength={1000} /> : null}
      <div className={styles.ways}>
        <Button large type="submit" disabled={asksWhy && reason.trim() === ''}>
          {t('readings.queue.retry', {})}
        </Button>
        <Button large kind="quiet" onClick={() => desk.discard(item.commandId)}>
          {t('readings.queue.give_up', {})}
        </Button>
      </div>
    </form>
  )
}
