import { useMutation } from '@tanstack/react-query'
import { useState } from 'react'
import { useLocation } from 'wouter'
import type { Entity } from '#core/model/entities.ts'
import { api } from '#renderer/app/client.ts'
import { newCommand, newId, useFailureText, useSay } from '#renderer/app/session.tsx'
import { Button } from '#renderer/ui/button.tsx'
import { Dialog } from '#renderer/ui/dialog.tsx'
import { Select } from '#renderer/ui/select.tsx'
import { TextField } from '#renderer/ui/text-field.tsx'
import { ofKind, type RoomPlan, useAround } from '../room-plan.ts'
import styles from './editor.module.css'
import { shiftToFreePlace } from './free-place.ts'
import { copiedRoom } from './room-changes.ts'

type DuplicateRoomProps = { plan: RoomPlan; facilities: readonly Entity<'facility'>[]; onClose: () => void }

/** A similar room out of this one, in this facility or another, with its zones, filters and limits. */
export function DuplicateRoom({ plan, facilities, onClose }: DuplicateRoomProps) {
  const t = useSay()
  const failureText = useFailureText()
  const [, goTo] = useLocation()
  const around = useAround()
  const [number, setNumber] = useState('')
  const [name, setName] = useState(plan.room.body.name)
  const [facilityId, setFacilityId] = useState(plan.facility.id)
  const rooms = ofKind(around.data ?? [], 'room').filter((room) => room.parentId === facilityId)
  const taken = rooms.some((room) => room.body.number === number.trim())
  const copy = useMutation({
    mutationFn: async () => {
      const shift = shiftToFreePlace(plan.room, rooms)
      const made = copiedRoom(plan, { number: number.trim(), name: name.trim(), facilityId, shift }, newId)
      await api.entities.change({ command: newCommand(), name: 'copy', scope: made.roomId, changes: made.changes })
      return made.roomId
    },
    onSuccess: (roomId) => {
      onClose()
      goTo(`/room/${roomId}/edit`)
    },
  })
  return (
    <Dialog
      open
      onClose={onClose}
      title={t('map.duplicate.title', { number: plan.room.body.number })}
      actions={
        <Button kind="primary" disabled={number.trim() === '' || taken || copy.isPending} onClick={() => copy.mutate()}>
          {t('map.duplicate.do', {})}
        </Button>
      }
    >
      <div className={styles.dialog}>
        <TextField
          label={t('map.prop.number', {})}
          value={number}
          onChange={setNumber}
          autoFocus
          maxLength={120}
          error={taken ? t('map.room.number_taken', { number: number.trim() }) : copy.error ? failureText(copy.error) : null}
          hint={t('map.duplicate.hint', { number: plan.room.body.number })}
        />
        <TextField label={t('map.prop.name', {})} value={name} onChange={setName} maxLength={120} />
        <Select
          label={t('map.duplicate.facility', {})}
          value={facilityId}
          choices={facilities.map((facility) => ({ value: facility.id, label: facility.body.name }))}
          onChange={setFacilityId}
        />
      </div>
    </Dialog>
  )
}
