import { useId } from 'react'
import { isKnownZone } from '#core/units/format.ts'
import { useSay } from '../app/session.tsx'
import { TextField } from '../ui/text-field.tsx'

export function ownTimeZone(): string {
  return Intl.DateTimeFormat().resolvedOptions().timeZone
}

export function isTimeZone(text: string): boolean {
  return isKnownZone(text.trim())
}

const ZONES = Intl.supportedValuesOf('timeZone')

type Props = { value: string; onChange: (value: string) => void; error: string | null; disabled?: boolean; large?: boolean }

/** An IANA zone, with the known ones offered while typing. */
export function TimeZoneField({ value, onChange, error, disabled, large }: Props) {
  const t = useSay()
  const list = useId()
  return (
    <div>
      <TextField
        label={t('projects.field.time_zone', {})}
        value={value}
        onChange={onChange}
        error={error}
        list={list}
        disabled={disabled}
        maxLength={80}
        large={large}
      />
      <datalist id={list}>
        {ZONES.map((zone) => (
          <option key={zone} value={zone} />
        ))}
      </datalist>
    </div>
  )
}
