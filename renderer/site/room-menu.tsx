import { useLocation } from 'wouter'
import type { Entity } from '#core/model/entities.ts'
import { useChange } from '../app/change.ts'
import { api } from '../app/client.ts'
import { newId, useCanChange, useSay } from '../app/session.tsx'
import { useSitePlan } from '../app/site-plan.ts'
import { IconButton } from '../ui/button.tsx'
import { Menu } from '../ui/menu.tsx'
import { useToast } from '../ui/toast.tsx'
import { copyRoom } from './room-copy.ts'
import styles from './site.module.css'

/** What can be done with a room from the list. */
export function RoomMenu({ room }: { room: Entity<'room'> }) {
  const t = useSay()
  const [, go] = useLocation()
  const toast = useToast()
  const canChange = useCanChange()
  const change = useChange()
  const { rooms } = useSitePlan()
  const copy = async () => {
    try {
      const inside = await api.entities.list({ kinds: ['zone', 'terminal'], within: room.id })
      const neighbours = rooms.filter((other) => other.parentId === room.parentId)
      const copied = copyRoom(room, inside, neighbours, newId)
      await change.mutateAsync({ name: 'copy', changes: copied.changes })
      toast.note(t('site.room.copied', { number: copied.number }))
      go(`/room/${copied.roomId}/edit`)
    } catch (error) {
      // A refused change has said so already; only the reading of the room has not.
      if (!change.isError) toast.problem(error)
    }
  }
  const setBody = (body: Entity<'room'>['body'] | null, name: 'edit' | 'remove') =>
    change.mutate(
      { name, changes: [{ kind: 'room', id: room.id, parentId: room.parentId, revision: room.revision, body }] },
      body === null ? { onSuccess: () => toast.note(t('site.room.removed', { number: room.body.number })) } : {},
    )
  return (
    <span className={styles.menu}>
      <Menu
        trigger={<IconButton icon="menu" label={t('site.room.commands', { number: room.body.number })} />}
        entries={[
          { label: t('site.room.map', {}), icon: 'room', onSelect: () => go(`/room/${room.id}`) },
          { label: t('site.room.edit_plan', {}), icon: 'edit', disabled: !canChange, onSelect: () => go(`/room/${room.id}/edit`) },
          { label: t('site.room.copy', {}), icon: 'copy', disabled: !canChange, onSelect: () => void copy() },
          {
            label: room.body.inUse ? t('site.room.close', {}) : t('site.room.reopen', {}),
            icon: 'lock',
            disabled: !canChange,
            startsGroup: true,
            onSelect: () => setBody({ ...room.body, inUse: !room.body.inUse }, 'edit'),
          },
          { label: t('site.room.remove', {}), icon: 'close', disabled: !canChange, onSelect: () => setBody(null, 'remove') },
        ]}
      />
    </span>
  )
}
