import { type KeyboardEvent, useState } from 'react'
import type { Entered, Unit } from '#core/model/values.ts'
import { plainNumberOf } from '#core/units/plain-number.ts'
import { useSay, useSentence } from '#renderer/app/session.tsx'
import { EnteredField } from '#renderer/ui/entered-field.tsx'
import { TextField } from '#renderer/ui/text-field.tsx'

/** A refusal as a sentence of the catalogue, or null when the value may stand. */
export type Refusal = { readonly code: string; readonly params: object } | null

/**
 * Fields of the properties panel: what is typed becomes one command when the field is left or Enter is pressed, so that undo takes back
 * whole entries. Escape gives the old value back.
 */
function committingKeys(onCommit: () => void, onDrop: () => void) {
  return (event: KeyboardEvent) => {
    if (event.key === 'Enter' && !(event.target instanceof HTMLTextAreaElement)) onCommit()
    if (event.key === 'Escape') onDrop()
  }
}

type CommittedTextProps = {
  label: string
  value: string
  onCommit: (value: string) => void
  refuse?: (value: string) => Refusal
  lines?: number
  hint?: string
  type?: 'text' | 'date'
  hideLabel?: boolean
}

export function CommittedText({ value, onCommit, refuse, ...rest }: CommittedTextProps) {
  const sentence = useSentence()
  const [draft, setDraft] = useState<string | null>(null)
  const refusal = draft === null ? null : (refuse?.(draft.trim()) ?? null)
  const commit = () => {
    if (draft === null || refusal) return
    setDraft(null)
    if (draft.trim() !== value) onCommit(draft.trim())
  }
  return (
    <TextField
      {...rest}
      value={draft ?? value}
      onChange={setDraft}
      error={refusal ? sentence(refusal) : null}
      onBlur={commit}
      onKeyDown={committingKeys(commit, () => setDraft(null))}
    />
  )
}

type CommittedEnteredProps = {
  label: string
  value: Entered | null
  unit: Unit
  /** null only where `optional` */
  onCommit: (value: Entered | null) => void
  optional?: boolean
  refuse?: (value: Entered) => Refusal
  hint?: string
  hideLabel?: boolean
}

export function CommittedEntered({ value, onCommit, optional = false, refuse, ...rest }: CommittedEnteredProps) {
  const t = useSay()
  const sentence = useSentence()
  const [draft, setDraft] = useState<{ value: Entered | null; valid: boolean } | null>(null)
  // Dropping a draft also empties what the field itself remembers of it.
  const [dropped, setDropped] = useState(0)
  const empty = draft?.valid === true && draft.value === null && !optional
  const refusal = draft?.valid && draft.value ? (refuse?.(draft.value) ?? null) : null
  const commit = () => {
    if (!draft?.valid || empty || refusal) return
    setDraft(null)
    if (draft.value?.typed !== value?.typed || draft.value?.unit !== value?.unit) onCommit(draft.value)
  }
  const drop = () => {
    setDraft(null)
    setDropped(dropped + 1)
  }
  return (
    <EnteredField
      key={dropped}
      {...rest}
      value={draft ? draft.value : value}
      onChange={(next, valid) => setDraft({ value: next, valid })}
      onBlur={commit}
      onKeyDown={committingKeys(commit, drop)}
      error={refusal ? sentence(refusal) : empty ? t('map.field.empty', {}) : null}
    />
  )
}

type CommittedNumberProps = {
  label: string
  value: number | null
  onCommit: (value: number | null) => void
  least: number
  most: number
  whole?: boolean
  optional?: boolean
  hint?: string
  hideLabel?: boolean
}

/** A number without a unit: counts, factors, degrees. */
export function CommittedNumber({ value, onCommit, least, most, whole, optional, ...rest }: CommittedNumberProps) {
  const range = { least, most }
  const read = (text: string): number | null => (text === '' ? null : plainNumberOf(text, range))
  const refuse = (text: string): Refusal => {
    const number = read(text)
    if (number === null) return optional ? null : { code: 'map.field.empty', params: {} }
    if (Number.isFinite(number) && !(whole && !Number.isInteger(number))) return null
    return { code: 'map.field.number', params: { least, most, whole: whole === true } }
  }
  return <CommittedText {...rest} value={value === null ? '' : String(value)} refuse={refuse} onCommit={(text) => onCommit(read(text))} />
}
