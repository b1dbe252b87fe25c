import { Link } from 'wouter'
import type { RoomInBalance, WholeSiteBalance } from '#core/api/balance.ts'
import { useFormatter, useSay } from '../app/session.tsx'
import { type Column, DataTable } from '../ui/data-table.tsx'
import styles from './balance.module.css'

/** A room, or the sum of all of them as the last line. */
type Line = { readonly key: string; readonly room: RoomInBalance | null; readonly figures: Figures }
type Figures = Pick<
  RoomInBalance,
  | 'supplyM3ps'
  | 'returnM3ps'
  | 'exhaustM3ps'
  | 'offsetM3ps'
  | 'offsetPercentOfSupply'
  | 'transferInM3ps'
  | 'transferOutM3ps'
  | 'toOutsideM3ps'
  | 'unaccountedM3ps'
>
type FlowKey = Exclude<keyof Figures, 'offsetPercentOfSupply'>
const TOTAL = 'total'
/** What only terminals tell; where supply alone was measured the others are not zero but unknown. */
const OF_TERMINALS: ReadonlySet<FlowKey> = new Set(['supplyM3ps', 'returnM3ps', 'exhaustM3ps'])

/** Every room's air in and out; the last line adds the columns up. */
export function RoomTable({ balance }: { balance: WholeSiteBalance }) {
  const t = useSay()
  const columns = useColumns(balance)
  const rooms = balance.rooms.map((room): Line => ({ key: room.roomId, room, figures: room }))
  return (
    <DataTable
      caption={t('balance.rooms', {})}
      columns={columns}
      rows={rooms.length === 0 ? [] : [...rooms, { key: TOTAL, room: null, figures: totalOf(balance) }]}
      rowKey={({ key }) => key}
      rowClass={({ room }) => (room ? undefined : styles.total)}
      empty={<p className={styles.note}>{t('balance.no_rooms', {})}</p>}
    />
  )
}

function totalOf(balance: WholeSiteBalance): Figures {
  const { supplyM3ps, offsetM3ps } = balance
  return {
    ...balance,
    offsetPercentOfSupply: offsetM3ps === null || supplyM3ps <= 0 ? null : (100 * offsetM3ps) / supplyM3ps,
    transferInM3ps: balance.betweenRoomsM3ps,
    transferOutM3ps: balance.betweenRoomsM3ps,
  }
}

function useColumns(balance: WholeSiteBalance): Column<Line>[] {
  const t = useSay()
  const f = useFormatter()
  const ofRoom = (room: RoomInBalance, key: FlowKey) =>
    room.gap === 'no_run' ? false : room.gap !== 'supply_only' || key === 'supplyM3ps' || !OF_TERMINALS.has(key)
  const measured = (room: RoomInBalance | null, key: FlowKey) => (room ? ofRoom(room, key) : balance.rooms.some((one) => ofRoom(one, key)))
  const flow = (key: FlowKey, heading: string): Column<Line> => ({
    key,
    heading,
    number: true,
    cell: ({ room, figures }) => f.number(measured(room, key) ? figures[key] : null, 'flow'),
  })
  return [
    {
      key: 'room',
      heading: t('balance.room', {}),
      cell: ({ room }) => (room ? <RoomCell room={room} /> : t('balance.total', {})),
    },
    flow('supplyM3ps', t('balance.supply', {})),
    flow('returnM3ps', t('balance.return', {})),
    flow('exhaustM3ps', t('balance.exhaust', {})),
    {
      ...flow('offsetM3ps', t('balance.offset', {})),
      cell: ({ figures }) => (
        <>
          {f.number(figures.offsetM3ps, 'flow')}
          {figures.offsetPercentOfSupply === null ? null : (
            <span className={styles.gap}>{t('balance.percent', { percent: figures.offsetPercentOfSupply })}</span>
          )}
        </>
      ),
    },
    flow('transferInM3ps', t('balance.in', {})),
    flow('transferOutM3ps', t('balance.out', {})),
    flow('toOutsideM3ps', t('balance.to_outside_short', {})),
    flow('unaccountedM3ps', t('balance.unaccounted', {})),
  ]
}

function RoomCell({ room }: { room: RoomInBalance }) {
  const t = useSay()
  const { number, name, runId, roomId, phase, gap, missing } = room
  return (
    <div className={styles.room}>
      <Link href={runId ? `/run/${runId}` : `/room/${roomId}`}>{t('balance.room_name', { number, name })}</Link>
      {gap ? (
        <span className={styles.gap}>{t('balance.gap', { gap, missing })}</span>
      ) : phase ? (
        <span className={styles.gap}>{t('balance.run', { of: { phase } })}</span>
      ) : null}
    </div>
  )
}
