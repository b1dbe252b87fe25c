import type { WholeSiteBalance } from '#core/api/balance.ts'
import { useFormatter, useSay } from '../app/session.tsx'
import { DataTable } from '../ui/data-table.tsx'
import styles from './balance.module.css'

/** Air that is known to go through doors, and what each counts as in the balance. */
export function TransferTable({ balance }: { balance: WholeSiteBalance }) {
  const t = useSay()
  const f = useFormatter()
  const numbers = new Map(balance.rooms.map(({ roomId, number }) => [roomId, number]))
  const room = (id: string | null) => (id === null ? t('balance.outside', {}) : (numbers.get(id) ?? '—'))
  return (
    <DataTable
      caption={t('balance.transfers', {})}
      rows={balance.transfers}
      rowKey={({ doorId }) => doorId}
      empty={<p className={styles.note}>{t('balance.no_transfers', {})}</p>}
      columns={[
        { key: 'door', heading: t('balance.door', {}), cell: ({ name }) => name || t('balance.door_unnamed', {}) },
        { key: 'from', heading: t('balance.transfer_from', {}), cell: ({ fromRoomId }) => room(fromRoomId) },
        { key: 'to', heading: t('balance.transfer_to', {}), cell: ({ toRoomId }) => room(toRoomId) },
        {
          key: 'flow',
          heading: t('balance.transfer_flow', {}),
          unit: f.unit('flow'),
          number: true,
          cell: ({ flowM3ps, left }) => (left ? t('balance.transfer_left', { of: { why: left } }) : f.number(flowM3ps, 'flow')),
        },
        { key: 'how', heading: t('balance.transfer_how', {}), cell: ({ how }) => how },
      ]}
    />
  )
}
