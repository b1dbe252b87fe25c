import { useMutation } from '@tanstack/react-query'
import { useState } from 'react'
import { useLocation, useSearchParams } from 'wouter'
import { CleanlinessClass, type Entered } from '#core/model/values.ts'
import { api } from '#renderer/app/client.ts'
import { Gone } from '#renderer/app/gone.tsx'
import { newCommand, newId, useCanChange, useFailureText, useProject, useSay } from '#renderer/app/session.tsx'
import { useNoWhy } from '#renderer/app/why.tsx'
import { Busy } from '#renderer/ui/busy.tsx'
import { Button } from '#renderer/ui/button.tsx'
import { EmptyState } from '#renderer/ui/empty-state.tsx'
import { EnteredField } from '#renderer/ui/entered-field.tsx'
import { Panel, ScreenHead } from '#renderer/ui/panel.tsx'
import { Select } from '#renderer/ui/select.tsx'
import { TextField } from '#renderer/ui/text-field.tsx'
import { ofKind, useAround } from '../room-plan.ts'
import { freePlace } from './free-place.ts'
import { freshRoom, proposedLength } from './fresh-bodies.ts'
import styles from './new-room.module.css'
import { created } from './room-changes.ts'

/** A room to begin with: its number, its size, its class. Everything else is drawn and typed in the editor, where it goes on. */
export function NewRoomScreen() {
  useNoWhy()
  const t = useSay()
  const failureText = useFailureText()
  const canChange = useCanChange()
  const { display } = useProject().body
  const [, goTo] = useLocation()
  const around = useAround()
  const facilities = ofKind(around.data ?? [], 'facility')
  const [search] = useSearchParams()
  const [asked, setAsked] = useState(search.get('facility'))
  const facilityId = facilities.find((facility) => facility.id === asked)?.id ?? facilities[0]?.id ?? null
  const [number, setNumber] = useState('')
  const [name, setName] = useState('')
  const [width, setWidth] = useState<Entered | null>(proposedLength({ m: 6, ft: 20 }, display.length))
  const [depth, setDepth] = useState<Entered | null>(proposedLength({ m: 4, ft: 13 }, display.length))
  const [height, setHeight] = useState<Entered | null>(proposedLength({ m: 2.7, ft: 9 }, display.length))
  const [cleanlinessClass, setClass] = useState<CleanlinessClass>('ISO 8')
  const [airflowType, setAirflow] = useState<'unidirectional' | 'non_unidirectional'>('non_unidirectional')
  const rooms = ofKind(around.data ?? [], 'room').filter((room) => room.parentId === facilityId)
  const taken = rooms.some((room) => room.body.number === number.trim())
  const size =
    width && depth && height && width.si > 0 && depth.si > 0 && height.si > 0 ? { width: width.si, depth: depth.si, height } : null
  const create = useMutation({
    mutationFn: async (facility: string) => {
      if (!size) return null
      const roomId = newId()
      const body = {
        ...freshRoom(number.trim(), name.trim()),
        shape: { kind: 'rectangle', ...freePlace(rooms), width: size.width, depth: size.depth } as const,
        ceilingHeight: size.height,
        cleanlinessClass,
        airflowType,
      }
      await api.entities.change({
        command: newCommand(),
        name: 'create',
        scope: roomId,
        changes: [created('room', roomId, facility, body)],
      })
      return roomId
    },
    onSuccess: (roomId) => {
      if (roomId) goTo(`/room/${roomId}/edit`)
    },
  })
  const above = (value: Entered | null) => (value && value.si <= 0 ? t('rule.above_zero', {}) : null)
  if (around.error) return <EmptyState icon="warn" title={failureText(around.error)} />
  if (!around.data) return <Busy label={t('app.loading', {})} />
  if (!facilityId) return <Gone icon="facility" title={t('map.new.no_facility', {})} />
  return (
    <form
      className={styles.screen}
      onSubmit={(event) => {
        event.preventDefault()
        create.mutate(facilityId)
      }}
    >
      <ScreenHead title={t('map.new.title', {})} about={t('map.new.about', {})} />
      <Panel title={t('map.new.panel', {})}>
        <div className={styles.fields}>
          <Select
            label={t('map.duplicate.facility', {})}
            value={facilityId}
            choices={facilities.map((facility) => ({ value: facility.id, label: facility.body.name }))}
            onChange={setAsked}
          />
          <TextField
            label={t('map.prop.number', {})}
            value={number}
            onChange={setNumber}
            autoFocus
            maxLength={120}
            error={taken ? t('map.room.number_taken', { number: number.trim() }) : null}
          />
          <TextField label={t('map.prop.name', {})} value={name} onChange={setName} maxLength={120} />
          <EnteredField
            label={t('map.shape.side', { of: { side: 'width' } })}
            unit={display.length}
            value={width}
            onChange={(value) => setWidth(value)}
            error={above(width)}
          />
          <EnteredField
            label={t('map.shape.side', { of: { side: 'depth' } })}
            unit={display.length}
            value={depth}
            onChange={(value) => setDepth(value)}
            error={above(depth)}
          />
          <EnteredField
            label={t('map.prop.ceiling', {})}
            unit={display.length}
            value={height}
            onChange={(value) => setHeight(value)}
            error={above(height)}
          />
          <Select
            label={t('map.prop.class', {})}
            value={cleanlinessClass}
            choices={CleanlinessClass.options.map((value) => ({ value, label: t('map.class.only', { of: { cleanlinessClass: value } }) }))}
            onChange={setClass}
          />
          <Select
            label={t('map.prop.airflow', {})}
            value={airflowType}
            choices={(['unidirectional', 'non_unidirectional'] as const).map((value) => ({
              value,
              label: t('map.airflow', { of: { airflow: value } }),
            }))}
            onChange={setAirflow}
          />
        </div>
        {create.error ? <p className={styles.error}>{failureText(create.error)}</p> : null}
        <Button type="submit" kind="primary" large disabled={!canChange || number.trim() === '' || taken || !size || create.isPending}>
          {t('map.new.do', {})}
        </Button>
      </Panel>
    </form>
  )
}
