import { useQuery } from '@tanstack/react-query'
import { type ReactNode, useRef } from 'react'
import { keepsHigh, reachesLow } from '#core/criteria/compare-limit.ts'
import type { DoorResult, RunResult } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { orpc } from '../app/client.ts'
import { useFormatter, useSay, useSentence } from '../app/session.tsx'
import { BudgetButton } from '../budgets/budget-button.tsx'
import styles from './room-air.module.css'
import { useSeen } from './use-seen.ts'

/** The air of a room by its current run: in, out, what is left over, air changes, and its doors. Asked for when it comes into sight. */
export function RoomAir({ runId, room, zone }: { runId: Uuid; room: string; zone: string | null }) {
  const t = useSay()
  const place = useRef<HTMLElement>(null)
  const seen = useSeen(place)
  const result = useQuery(orpc.evaluation.run.queryOptions({ input: { runId }, enabled: seen }))
  return (
    <section ref={place} className={styles.air} aria-label={t('ways.room', { room: zone ?? room })}>
      {zone ? <strong>{zone}</strong> : null}
      {result.data ? <AirOf result={result.data} room={room} /> : null}
    </section>
  )
}

type Line = readonly [name: string, value: ReactNode, note: string]

function AirOf({ result, room }: { result: RunResult; room: string }) {
  const t = useSay()
  const f = useFormatter()
  const sentence = useSentence()
  const { room: figures, zones, filters } = result
  const { balance } = figures
  const lines: Line[] = []
  if (balance) {
    const soFar = balance.missingTerminalIds.length > 0 ? t('ways.room.so_far', { missing: balance.missingTerminalIds.length }) : ''
    lines.push(
      [t('ways.room.supply', {}), f.quantity(balance.supplyM3ps, 'flow'), soFar],
      [t('ways.room.return', {}), f.quantity(balance.returnM3ps, 'flow'), ''],
      [t('ways.room.exhaust', {}), f.quantity(balance.exhaustM3ps, 'flow'), ''],
      [
        t('ways.room.offset', {}),
        <span key="offset" className={styles.sure}>
          <strong>
            {signed(balance.offsetM3ps)}
            {f.quantity(balance.offsetM3ps, 'flow')}
          </strong>
          <BudgetButton
            runId={result.runId}
            subjectId={result.roomId}
            subject={room}
            figure="offset"
            dimension="flow"
            uncertainty={figures.uncertainty?.offset ?? null}
          />
        </span>,
        t('ways.room.offset_note', { percent: balance.offsetPercentOfSupply }),
      ],
    )
  }
  const [zone] = filters.length === 0 ? zones : []
  if (zone) {
    lines.push([t('ways.room.mean', {}), f.quantity(zone.meanVelocityMps, 'velocity'), ''])
    lines.push([t('ways.room.within', {}), f.quantity(zone.pointsWithinPercent, 'percent', { digits: 0 }), ''])
  }
  return (
    <>
      <dl className={styles.figures}>
        {lines.map(([name, value, note]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>
              {typeof value === 'string' ? <strong>{value}</strong> : value}
              {note ? <span className={styles.aside}>{note}</span> : null}
            </dd>
          </div>
        ))}
      </dl>
      <p className={styles.note}>
        {/* Where fan filter units hang, the room's supply is larger than what the balance counts: it says why. */}
        {balance && balance.recirculatedM3ps > 0 ? `${t('ways.room.recirculated', { flow: balance.recirculatedM3ps })} ` : null}
        {t('ways.room.basis', { of: { basis: zone?.basis ?? figures.basis }, balance: balance ? { basis: balance.basis } : null })}
      </p>
      {result.notes.map((note) => (
        <p key={note.code} className={styles.odd}>
          {sentence(note)}
        </p>
      ))}
      {result.doors.length > 0 ? (
        <ul className={styles.doors} aria-label={t('ways.doors', {})}>
          {result.doors.map((door) => (
            <DoorLine key={door.doorId} door={door} />
          ))}
        </ul>
      ) : null}
    </>
  )
}

/** An offset has a sign that people look for; negative ones bring theirs along. */
function signed(flowM3ps: number | null): string {
  return flowM3ps !== null && flowM3ps > 0 ? '+' : ''
}

function DoorLine({ door }: { door: DoorResult }) {
  const t = useSay()
  const { name, measuredPa, wantedPa, measuredAgainstWanted, measuredAgainstBalance } = door
  const reached = keeps(measuredPa, wantedPa)
  return (
    <li>
      {t('ways.doors.line', { name, measuredPa, wantedPa })}
      {measuredAgainstWanted === 'agrees' && reached ? <span className={styles.aside}>{t('ways.doors.agrees', {})}</span> : null}
      {measuredAgainstWanted === 'agrees' && !reached ? <span className={styles.odd}>{t('ways.doors.short', {})}</span> : null}
      {measuredAgainstWanted === 'disagrees' ? <span className={styles.odd}>{t('ways.doors.disagrees', {})}</span> : null}
      {measuredAgainstBalance === 'disagrees' ? <span className={styles.odd}>{t('ways.doors.against_balance', {})}</span> : null}
      {measuredAgainstBalance === 'both_ways' ? <span className={styles.aside}>{t('ways.doors.both_ways', {})}</span> : null}
    </li>
  )
}

/** The direction alone is told by the result; a difference may go the right way and still be less than the door has to keep. */
function keeps(measuredPa: number | null, wantedPa: number | null): boolean {
  if (measuredPa === null || wantedPa === null) return false
  return wantedPa >= 0 ? reachesLow(measuredPa, wantedPa) : keepsHigh(measuredPa, wantedPa)
}
