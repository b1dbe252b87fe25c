import type { EntityChange } from '#core/api/entities.ts'
import type { CommandName } from '#core/model/audit.ts'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import { checkBody } from '#core/model/rules.ts'
import { useFormatter, useProject, useSay } from '#renderer/app/session.tsx'
import { Why } from '#renderer/app/why.tsx'
import { Button } from '#renderer/ui/button.tsx'
import { Select } from '#renderer/ui/select.tsx'
import type { RoomPlan } from '../room-plan.ts'
import { CommittedEntered, CommittedNumber, CommittedText } from './committed-fields.tsx'
import { KnownTransfer } from './known-transfer.tsx'
import { shownLength } from './length-entry.ts'
import styles from './panel.module.css'
import { edited, removed } from './room-changes.ts'

type DoorPanelProps = {
  plan: RoomPlan
  door: Entity<'door'>
  change: (name: CommandName, changes: readonly EntityChange[], reason?: string) => void
}

const OUTSIDE = 'outside'

/** Properties of a door or opening. */
export function DoorPanel({ plan, door, change }: DoorPanelProps) {
  const t = useSay()
  const formatter = useFormatter()
  const { display } = useProject().body
  const { body } = door
  const put = (next: Partial<EntityBody<'door'>>, name: CommandName = 'edit') => change(name, [edited(door, { ...body, ...next })])
  const other = body.roomIds.find((id) => id !== plan.room.id) ?? null
  const roomName = (id: string | null) =>
    [plan.room, ...plan.neighbours].find((room) => room.id === id)?.body.number ?? t('map.door.outside', {})
  return (
    <Why title={body.name || t('map.door.unnamed', {})}>
      <div className={styles.fields}>
        <CommittedText label={t('map.prop.name', {})} value={body.name} onCommit={(name) => put({ name }, 'rename')} />
        <Select
          label={t('map.door.leads_to', {})}
          value={other ?? OUTSIDE}
          choices={[
            { value: OUTSIDE, label: t('map.door.outside', {}) },
            ...plan.neighbours.map((room) => ({
              value: room.id,
              label: t('map.room.title', { number: room.body.number, name: room.body.name }),
            })),
          ]}
          onChange={(id) => put({ roomIds: [plan.room.id, id === OUTSIDE ? null : id] })}
        />
        <div className={styles.pair}>
          {(['x', 'y'] as const).map((axis) => (
            <CommittedEntered
              key={axis}
              label={t(`map.prop.${axis}`, {})}
              unit={display.length}
              value={shownLength(body[axis], display.length, formatter)}
              onCommit={(value) => value && put({ [axis]: value.si }, 'move')}
            />
          ))}
        </div>
        <div className={styles.pair}>
          <CommittedEntered
            label={t('map.prop.door_width', {})}
            unit={display.length}
            value={shownLength(body.width, display.length, formatter)}
            refuse={(value) => (value.si > 0 ? null : { code: 'rule.above_zero', params: {} })}
            onCommit={(value) => value && put({ width: value.si }, 'resize')}
          />
          <CommittedNumber
            label={t('map.prop.rotation', {})}
            value={body.rotationDegrees}
            least={0}
            most={359.9}
            onCommit={(degrees) => degrees !== null && put({ rotationDegrees: degrees }, 'move')}
          />
        </div>
        <CommittedEntered
          label={t('map.door.pressure', {})}
          unit={display.pressure}
          optional
          value={body.leastPressureDifference}
          refuse={(leastPressureDifference) => checkBody('door', { ...body, leastPressureDifference })[0] ?? null}
          onCommit={(leastPressureDifference) => put({ leastPressureDifference })}
        />
        <KnownTransfer
          key={`transfer ${door.id} ${body.transfer?.flow.typed ?? ''}`}
          value={body.transfer}
          from={roomName(body.roomIds[0])}
          to={roomName(body.roomIds[1])}
          onCommit={(transfer) => put({ transfer })}
        />
        <CommittedText label={t('map.prop.note', {})} lines={2} value={body.note} onCommit={(note) => put({ note })} />
        <Button kind="danger" icon="remove" onClick={() => change('remove', [removed(door)])}>
          {t('map.edit.remove', {})}
        </Button>
      </div>
    </Why>
  )
}
