import { useState } from 'react'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import type { Entered } from '#core/model/values.ts'
import { plainNumberOf } from '#core/units/plain-number.ts'
import { useChange } from '../app/change.ts'
import { failureOf } from '../app/failure.ts'
import { newId, useProject, useSay, useSentence } from '../app/session.tsx'
import { Button } from '../ui/button.tsx'
import { Dialog } from '../ui/dialog.tsx'
import { EnteredField } from '../ui/entered-field.tsx'
import { TextField } from '../ui/text-field.tsx'

type FacilityDialogProps = { facility: Entity<'facility'> | null; onClose: () => void }

/** More than any place on earth, so that neither reading of "1,600" or "25,000" is struck out, whatever the unit. */
const LARGEST_WRITTEN_M = 1_000_000

const FRESH: EntityBody<'facility'> = { name: '', address: '', northDegrees: 0, altitudeM: null, note: '' }

/** Creates a facility, or edits one. */
export function FacilityDialog({ facility, onClose }: FacilityDialogProps) {
  const t = useSay()
  const sentence = useSentence()
  const project = useProject()
  const change = useChange({ quiet: true })
  const lengthUnit = project.body.display.length
  const [body, setBody] = useState(facility?.body ?? FRESH)
  const [north, setNorth] = useState(String(body.northDegrees))
  const [altitude, setAltitude] = useState<Entered | null>(
    body.altitudeM === null ? null : { si: body.altitudeM, typed: String(body.altitudeM), unit: 'm' },
  )
  const [altitudeReadable, setAltitudeReadable] = useState(true)
  const [tried, setTried] = useState(false)
  const degrees = plainNumberOf(north, { least: 0, most: 360 })
  const nameError = body.name.trim() === '' ? t('site.facility.needs_name', {}) : null
  const northError = degrees < 360 ? null : t('site.facility.needs_north', {})
  const altitudeError = altitude && (altitude.si < -500 || altitude.si > 6000) ? t('site.facility.needs_altitude', {}) : null

  const save = () => {
    setTried(true)
    if (nameError || northError || altitudeError || !altitudeReadable) return
    change.mutate(
      {
        name: facility ? 'edit' : 'create',
        changes: [
          {
            kind: 'facility',
            id: facility?.id ?? newId(),
            parentId: null,
            revision: facility?.revision ?? null,
            body: { ...body, name: body.name.trim(), northDegrees: degrees, altitudeM: altitude?.si ?? null },
          },
        ],
      },
      { onSuccess: onClose },
    )
  }
  return (
    <Dialog
      open
      onClose={onClose}
      title={facility ? t('site.facility.edit', { name: facility.body.name }) : t('site.facility.new', {})}
      actions={
        <>
          <Button onClick={onClose}>{t('app.cancel', {})}</Button>
          <Button kind="primary" type="submit" form="facility" disabled={change.isPending}>
            {t('app.save', {})}
          </Button>
        </>
      }
    >
      <form
        id="facility"
        onSubmit={(event) => {
          event.preventDefault()
          save()
        }}
        style={{ display: 'contents' }}
      >
        <TextField
          label={t('site.facility.name', {})}
          hint={t('site.facility.name_hint', {})}
          value={body.name}
          onChange={(name) => setBody({ ...body, name })}
          error={tried ? nameError : null}
          maxLength={120}
          autoFocus
          large
        />
        <TextField
          label={t('site.facility.address', {})}
          value={body.address}
          onChange={(address) => setBody({ ...body, address })}
          maxLength={500}
        />
        <TextField
          label={t('site.facility.north', {})}
          hint={t('site.facility.north_hint', {})}
          value={north}
          onChange={setNorth}
          error={tried ? northError : null}
          maxLength={10}
        />
        <EnteredField
          label={t('site.facility.altitude', {})}
          value={altitude}
          onChange={(next, valid) => {
            setAltitudeReadable(valid)
            setAltitude(next)
          }}
          unit={lengthUnit}
          largestSi={LARGEST_WRITTEN_M}
          error={altitudeError}
        />
        <TextField
          label={t('site.facility.note', {})}
          value={body.note}
          onChange={(note) => setBody({ ...body, note })}
          lines={2}
          maxLength={4000}
        />
        {change.isError ? <p role="alert">{sentence(failureOf(change.error).sentence)}</p> : null}
      </form>
    </Dialog>
  )
}
