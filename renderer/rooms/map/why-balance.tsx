import type { DoorResult, RunResult } from '#core/model/results.ts'
import { useFormatter, useSay } from '#renderer/app/session.tsx'
import { Icon } from '#renderer/ui/icon.tsx'
import { Facts } from '#renderer/ui/panel.tsx'
import styles from './why.module.css'

/** The air of the room in and out with its signs, and which way it goes through the doors. Nothing where the run measured supply alone. */
export function WhyBalance({ run }: { run: RunResult }) {
  const t = useSay()
  const f = useFormatter()
  const { balance } = run.room
  if (!balance) return null
  const flow = (value: number | null) => f.quantity(value, 'flow')
  const doors = run.doors.filter(({ wanted, measured }) => wanted !== null || measured !== null)
  return (
    <section aria-label={t('balance.title', {})}>
      <h3 className={styles.part}>{t('balance.of_room', { of: balance })}</h3>
      <Facts
        facts={[
          [t('balance.supply', {}), flow(balance.supplyM3ps)],
          [t('balance.return', {}), flow(-balance.returnM3ps)],
          [t('balance.exhaust', {}), flow(-balance.exhaustM3ps)],
          [
            t('balance.offset', {}),
            t('balance.offset_of_room', {
              offset: balance.offsetM3ps,
              percent: balance.offsetPercentOfSupply,
              missing: balance.missingTerminalIds.length,
            }),
          ],
          ...(balance.offsetAtRoomM3ps === null ? [] : [[t('balance.offset_at_room', {}), flow(balance.offsetAtRoomM3ps)] as const]),
          ...(balance.recirculatedM3ps === 0 ? [] : [[t('balance.recirculated', {}), flow(balance.recirculatedM3ps)] as const]),
        ]}
      />
      {doors.length > 0 ? (
        <ul className={styles.lines}>
          {doors.map((door) => (
            <li key={door.doorId}>
              <DoorWords door={door} />
            </li>
          ))}
        </ul>
      ) : null}
    </section>
  )
}

function DoorWords({ door }: { door: DoorResult }) {
  const t = useSay()
  const disagrees = door.measuredAgainstWanted === 'disagrees' || door.measuredAgainstBalance === 'disagrees'
  return (
    <span>
      {disagrees ? <Icon name="warn" size={14} /> : null}{' '}
      {t('balance.door_words', {
        name: door.name,
        wanted: { sign: door.wanted, pa: door.wantedPa },
        expected: { sign: door.expected },
        measured: { sign: door.measured, pa: door.measuredPa },
      })}
    </span>
  )
}
