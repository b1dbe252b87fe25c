import { type ReactNode, useEffect, useState } from 'react'
import { Link, useLocation, useSearchParams } from 'wouter'
import type { Entity } from '#core/model/entities.ts'
import { useChange } from '../app/change.ts'
import { useCanChange, useFailureText, useProject, useSay, useSession, useShownCertification } from '../app/session.tsx'
import { useOverview, useSitePlan } from '../app/site-plan.ts'
import { NoWhy, useWhy } from '../app/why.tsx'
import { Busy } from '../ui/busy.tsx'
import { Button, IconButton } from '../ui/button.tsx'
import { EmptyState } from '../ui/empty-state.tsx'
import { Menu } from '../ui/menu.tsx'
import { Panel, ScreenHead } from '../ui/panel.tsx'
import { AirSystemsDialog } from './air-systems-dialog.tsx'
import { FacilityDialog } from './facility-dialog.tsx'
import { NoticesPanel } from './notices-panel.tsx'
import { roomRows } from './room-rows.ts'
import { RoomWhy } from './room-why.tsx'
import { RoomsTable } from './rooms-table.tsx'
import styles from './site.module.css'
import { SiteSummary } from './site-summary.tsx'
import { SiteWhy } from './site-why.tsx'

/** Facilities and rooms, with the state of the certification shown at a glance. */
export function SiteScreen() {
  const t = useSay()
  const failureText = useFailureText()
  const project = useProject()
  const canChange = useCanChange()
  const { files, person } = useSession()
  const nobody = person === null && files?.open?.readOnly === false
  const certification = useShownCertification()
  const plan = useSitePlan()
  const overview = useOverview(certification?.id ?? null)
  const why = useWhy()
  const [editing, setEditing] = useState<Entity<'facility'> | 'new' | null>(null)
  const [systemsOf, setSystemsOf] = useState<Entity<'facility'> | null>(null)
  const [selectedId, setSelectedId] = useState<string | null>(null)
  const state = overview.data?.state ?? null
  const rows = roomRows(plan.rooms, state, certification)
  const selected = rows.find((row) => row.room.id === selectedId) ?? null
  useAddRoomRequest(plan.facilities[0]?.facility.id ?? null, plan.loading)

  if (plan.loading) return <Busy label={t('app.loading', {})} />
  return (
    <div className={styles.screen}>
      <ScreenHead
        title={t('site.title', {})}
        about={`${project.body.name} · ${t('site.summary', { rooms: plan.rooms.length, facilities: plan.facilities.length })}`}
        actions={
          <>
            {certification ? <Link href={`/balance/${certification.id}`}>{t('app.nav.balance', {})}</Link> : null}
            <Button icon="add" disabled={!canChange} onClick={() => setEditing('new')}>
              {t('site.facility.add', {})}
            </Button>
          </>
        }
      />
      {nobody ? <p className={styles.nobody}>{t('site.nobody', {})}</p> : null}
      {plan.error || overview.error ? <p role="alert">{failureText(plan.error ?? overview.error)}</p> : null}
      {certification ? <SiteSummary certification={certification} state={state} rows={rows} /> : null}
      {plan.facilities.length > 0 && overview.data ? (
        <NoticesPanel notices={overview.data.notices} certified={certification !== null} />
      ) : null}
      {certification === null && selected === null ? <NoWhy /> : null}
      {plan.facilities.length === 0 ? (
        <EmptyState
          icon="facility"
          title={t('site.empty', {})}
          action={
            <Button kind="primary" icon="add" large disabled={!canChange} onClick={() => setEditing('new')}>
              {t('site.facility.add', {})}
            </Button>
          }
        >
          {t('site.empty_text', {})}
        </EmptyState>
      ) : null}
      {plan.facilities.map(({ facility, rooms }) => (
        <FacilityPanel
          key={facility.id}
          facility={facility}
          empty={rooms.length === 0}
          onEdit={() => setEditing(facility)}
          onSystems={() => setSystemsOf(facility)}
        >
          <RoomsTable
            caption={t('site.rooms_of', { facility: facility.body.name })}
            certified={certification !== null}
            rows={rows.filter((row) => row.room.parentId === facility.id)}
            selectedId={selectedId}
            onFocus={setSelectedId}
            onSelect={(roomId) => {
              setSelectedId(roomId)
              why.setOpen(true)
            }}
          />
        </FacilityPanel>
      ))}
      {plan.rooms.length > 0 && !certification ? (
        <EmptyState
          icon="certification"
          title={t('site.next_step', {})}
          action={<Link href="/plan">{t('site.next_step_action', {})}</Link>}
        >
          {t('site.next_step_text', {})}
        </EmptyState>
      ) : null}
      {selected ? (
        <RoomWhy row={selected} />
      ) : certification && state ? (
        <SiteWhy certification={certification} state={state} rows={rows} />
      ) : null}
      {systemsOf ? <AirSystemsDialog key={systemsOf.id} facility={systemsOf} onClose={() => setSystemsOf(null)} /> : null}
      {editing ? (
        <FacilityDialog
          key={editing === 'new' ? 'new' : editing.id}
          facility={editing === 'new' ? null : editing}
          onClose={() => setEditing(null)}
        />
      ) : null}
    </div>
  )
}

type FacilityPanelProps = { facility: Entity<'facility'>; empty: boolean; onEdit: () => void; onSystems: () => void; children: ReactNode }

function FacilityPanel({ facility, empty, onEdit, onSystems, children }: FacilityPanelProps) {
  const t = useSay()
  const [, go] = useLocation()
  const canChange = useCanChange()
  const change = useChange()
  const addRoom = () => go(`/room/new?facility=${facility.id}`)
  return (
    <Panel
      title={facility.body.name}
      flush
      actions={
        <>
          <Button icon="add" kind="quiet" disabled={!canChange} onClick={addRoom}>
            {t('site.room.add', {})}
          </Button>
          <Menu
            trigger={<IconButton icon="menu" label={t('site.facility.commands', { name: facility.body.name })} />}
            entries={[
              { label: t('site.facility.edit', { name: facility.body.name }), icon: 'edit', disabled: !canChange, onSelect: onEdit },
              { label: t('systems.open', {}), icon: 'gauge', onSelect: onSystems },
              {
                label: t('site.facility.remove', { name: facility.body.name }),
                icon: 'close',
                disabled: !canChange || !empty,
                onSelect: () =>
                  change.mutate({
                    name: 'remove',
                    changes: [{ kind: 'facility', id: facility.id, parentId: null, revision: facility.revision, body: null }],
                  }),
              },
            ]}
          />
        </>
      }
    >
      {empty ? (
        <div className={styles.emptyRooms}>
          <EmptyState
            icon="room"
            title={t('site.empty_rooms', {})}
            action={
              <Button kind="primary" icon="add" large disabled={!canChange} onClick={addRoom}>
                {t('site.room.add', {})}
              </Button>
            }
          >
            {t('site.empty_rooms_text', {})}
          </EmptyState>
        </div>
      ) : (
        children
      )}
    </Panel>
  )
}

/** "Add a room" of the palette: the first facility gets it, unless there is none yet. */
function useAddRoomRequest(facilityId: string | null, loading: boolean): void {
  const [search] = useSearchParams()
  const [, go] = useLocation()
  const asked = search.get('add') === 'room'
  useEffect(() => {
    if (!asked || loading) return
    go(facilityId ? `/room/new?facility=${facilityId}` : '/site', { replace: true })
  }, [asked, loading, facilityId, go])
}
