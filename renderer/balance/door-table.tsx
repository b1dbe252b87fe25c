import type { RoomInBalance, WholeSiteBalance } from '#core/api/balance.ts'
import type { DoorResult } from '#core/model/results.ts'
import { useSay } from '../app/session.tsx'
import { DataTable } from '../ui/data-table.tsx'
import { Icon } from '../ui/icon.tsx'
import styles from './balance.module.css'
import { type DoorLine, doorLines } from './door-lines.ts'

/** Which way the air should go through each door, what the balance lets expect, and what was measured, seen from each room. */
export function DoorTable({ balance }: { balance: WholeSiteBalance }) {
  const t = useSay()
  const sign = (of: DoorResult['wanted'], pa: number | null) => t('balance.sign', { of: { sign: of }, pa })
  return (
    <DataTable
      caption={t('balance.doors', {})}
      rows={doorLines(balance)}
      rowKey={({ room, door }) => `${room.roomId} ${door.doorId}`}
      empty={<p className={styles.note}>{t('balance.no_doors', {})}</p>}
      columns={[
        { key: 'room', heading: t('balance.room', {}), sortBy: ({ room }) => room.number, cell: ({ room }) => <Name room={room} /> },
        { key: 'door', heading: t('balance.door', {}), cell: ({ door }) => door.name || t('balance.door_unnamed', {}) },
        { key: 'wanted', heading: t('balance.wanted', {}), cell: ({ door }) => sign(door.wanted, door.wantedPa) },
        { key: 'expected', heading: t('balance.expected', {}), cell: ({ door }) => sign(door.expected, null) },
        { key: 'measured', heading: t('balance.measured', {}), cell: ({ door }) => sign(door.measured, door.measuredPa) },
        {
          key: 'against_wanted',
          heading: t('balance.against_wanted', {}),
          cell: ({ door }: DoorLine) => <Agreement value={door.measuredAgainstWanted} />,
        },
        {
          key: 'against_balance',
          heading: t('balance.against_balance', {}),
          cell: ({ door }: DoorLine) => <Agreement value={door.measuredAgainstBalance} />,
        },
      ]}
    />
  )
}

function Name({ room }: { room: RoomInBalance }) {
  return useSay()('balance.room_name', { number: room.number, name: room.name })
}

function Agreement({ value }: { value: DoorResult['measuredAgainstBalance'] }) {
  const t = useSay()
  const text = t('balance.agreement', { of: { agreement: value } })
  if (value !== 'disagrees') return text
  return (
    <span className={styles.disagrees}>
      <Icon name="warn" size={14} /> {text}
    </span>
  )
}
