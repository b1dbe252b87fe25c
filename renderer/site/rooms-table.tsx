import { useMemo } from 'react'
import { Link } from 'wouter'
import { airChangesAsked } from '#core/criteria/limits-held.ts'
import { unitLabel } from '#core/units/units.ts'
import { useFormatter, useProject, useSay, useSentence } from '../app/session.tsx'
import { type Column, DataTable } from '../ui/data-table.tsx'
import { VerdictMark } from '../ui/verdict-mark.tsx'
import { RoomMenu } from './room-menu.tsx'
import { type RoomRow, verdictRank } from './room-rows.ts'
import styles from './site.module.css'

type RoomsTableProps = {
  caption: string
  /** whether a certification is in sight that a room can be outside of */
  certified: boolean
  rows: readonly RoomRow[]
  selectedId: string | null
  onSelect: (roomId: string) => void
  onFocus: (roomId: string) => void
}

/** The rooms of a facility with what the certification shown says about each. */
export function RoomsTable({ caption, certified, rows, selectedId, onSelect, onFocus }: RoomsTableProps) {
  const t = useSay()
  const sentence = useSentence()
  const format = useFormatter()
  const project = useProject()
  const columns = useMemo<Column<RoomRow>[]>(
    () => [
      {
        key: 'verdict',
        heading: t('site.column.verdict', {}),
        width: 'max(13cqi, 136px)',
        cell: ({ room, verdict, state }) =>
          !room.body.inUse ? (
            <span className={styles.faint}>{t('site.out_of_use', {})}</span>
          ) : verdict ? (
            <span className={styles.verdict}>
              <VerdictMark verdict={verdict} />
              {state?.failedAsFound ? (
                <span className={styles.asFound} title={t('site.failed_as_found', {})}>
                  <span className="visually-hidden">{t('site.failed_as_found', {})}</span>
                </span>
              ) : null}
            </span>
          ) : (
            <VerdictMark verdict="not_applicable" look="shape" />
          ),
        sortBy: ({ verdict }) => verdictRank(verdict),
      },
      {
        key: 'room',
        heading: t('site.column.room', {}),
        rowHeading: true,
        cell: ({ room, state, verdict }) => (
          <>
            <Link href={`/room/${room.id}`} className={styles.roomLink} onClick={(event) => event.stopPropagation()}>
              <span className={styles.roomNumber}>{room.body.number}</span>
              <span className={styles.roomName}>{room.body.name}</span>
            </Link>
            {state ? (
              <span className={styles.says}>{sentence(state.headline)}</span>
            ) : verdict === null && room.body.inUse && certified ? (
              <span className={styles.says}>{t('site.not_in_scope', {})}</span>
            ) : null}
          </>
        ),
        sortBy: ({ room }) => room.body.number,
      },
      {
        key: 'class',
        heading: t('site.column.class', {}),
        width: 'max(11cqi, 104px)',
        cell: ({ room }) => (
          <>
            {t('site.class', { cleanlinessClass: room.body.cleanlinessClass })}
            <span className={styles.beneath}>{sentence({ code: `site.state.${room.body.occupancyState}`, params: {} })}</span>
          </>
        ),
        sortBy: ({ room }) => room.body.cleanlinessClass,
      },
      {
        key: 'filters',
        heading: t('site.column.filters', {}),
        width: 'max(10cqi, 92px)',
        number: true,
        cell: ({ state }) => (state ? t('site.filters_of', { measured: state.filtersMeasured, planned: state.filtersPlanned }) : ''),
        sortBy: ({ state }) => state?.filtersPlanned ?? null,
      },
      {
        key: 'flow',
        heading: t('site.column.flow', {}),
        unit: unitLabel(project.body.display.flow),
        width: 'max(12cqi, 112px)',
        number: true,
        cell: ({ state }) => format.number(state?.supplyFlowM3ps ?? null, 'flow'),
        sortBy: ({ state }) => state?.supplyFlowM3ps ?? null,
      },
      {
        key: 'airChanges',
        heading: t('site.column.air_changes', {}),
        unit: unitLabel('1/h'),
        width: 'max(13cqi, 122px)',
        number: true,
        cell: ({ state, room }) => (
          <>
            <span className={styles.figure}>
              {format.number(state?.airChangesPerHour ?? null, 'air_change_rate', { heldAgainst: airChangesAsked(room.body) })}
            </span>
            {room.body.requiredAirChangesPerHour === null ? null : (
              <span className={styles.beneath}>
                {t('site.at_least', { figure: format.number(room.body.requiredAirChangesPerHour, 'air_change_rate') })}
              </span>
            )}
          </>
        ),
        sortBy: ({ state }) => state?.airChangesPerHour ?? null,
      },
      {
        key: 'commands',
        heading: <span className="visually-hidden">{t('site.column.commands', {})}</span>,
        width: '64px',
        cell: ({ room }) => <RoomMenu room={room} />,
      },
    ],
    [t, sentence, format, project.body.display.flow, certified],
  )
  return (
    <DataTable
      caption={caption}
      columns={columns}
      rows={rows}
      rowKey={({ room }) => room.id}
      selectedKey={selectedId}
      onSelect={({ room }) => onSelect(room.id)}
      onFocusRow={({ room }) => onFocus(room.id)}
      className={styles.table}
    />
  )
}
