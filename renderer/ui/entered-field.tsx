import { Field } from '@base-ui/react/field'
import { type KeyboardEvent, type Ref, useState } from 'react'
import type { Entered, Unit } from '#core/model/values.ts'
import { enteredText } from '#core/units/format.ts'
import { type EnteredAs, parseEntered } from '#core/units/parse.ts'
import { unitLabel } from '#core/units/units.ts'
import { useSentence } from '../app/words.tsx'
import { joined } from './class-names.ts'
import styles from './field.module.css'
import { FieldNotes } from './text-field.tsx'

type EnteredFieldProps = {
  label: string
  value: Entered | null
  /** the parsed value; null when empty. Called only with what could be understood; `valid` says whether the text now stands for it. */
  onChange: (value: Entered | null, valid: boolean) => void
  /** unit of a number typed without one */
  unit: Unit
  /** a place on a scale, or a difference of two (a step, an uncertainty, a margin), which is another thing in °F */
  as?: EnteredAs
  /** the largest magnitude that can be meant here, in SI, where that is more than anybody writes in the unit elsewhere */
  largestSi?: number
  /** a problem found outside, such as a value out of its range */
  error?: string | null
  hint?: string
  required?: boolean
  disabled?: boolean
  autoFocus?: boolean
  large?: boolean
  hideLabel?: boolean
  inputRef?: Ref<HTMLInputElement>
  onKeyDown?: (event: KeyboardEvent) => void
  onBlur?: () => void
  className?: string
}

/** A number with its unit, kept as typed. Text that cannot be understood stays in the field with a sentence under it. */
export function EnteredField(props: EnteredFieldProps) {
  const { label, value, onChange, unit, as, largestSi, error, hint, large, hideLabel, inputRef, className, onBlur, onKeyDown, ...rest } =
    props
  const sentence = useSentence()
  // While it holds text that was not understood, or text just typed, the draft wins over the value.
  const [draft, setDraft] = useState<{ text: string; left: boolean } | null>(null)
  const shown = draft?.text ?? (value ? enteredText(value) : '')
  const read = (text: string) => parseEntered(text, unit, { as, largestSi })
  const parsed = draft && draft.text.trim() !== '' ? read(draft.text) : null
  const problem = parsed && !parsed.ok && draft?.left ? sentence(parsed.problem) : (error ?? null)

  const typed = (text: string) => {
    setDraft({ text, left: draft?.left === true && parsed !== null && !parsed.ok })
    if (text.trim() === '') return onChange(null, true)
    const next = read(text)
    if (next.ok) onChange(next.value, true)
    else onChange(null, false)
  }
  const left = () => {
    if (!draft) return
    const understood = draft.text.trim() === '' || read(draft.text).ok
    setDraft(understood ? null : { text: draft.text, left: true })
  }

  return (
    <Field.Root className={joined(styles.field, large && styles.large, className)} invalid={Boolean(problem)}>
      <Field.Label className={hideLabel ? 'visually-hidden' : styles.label}>{label}</Field.Label>
      <span className={styles.box} data-invalid={problem ? '' : undefined}>
        <Field.Control
          ref={inputRef}
          type="text"
          inputMode="decimal"
          autoComplete="off"
          {...rest}
          value={shown}
          className={styles.input}
          onValueChange={(text: string) => typed(text)}
          onBlur={() => {
            left()
            onBlur?.()
          }}
          onKeyDown={(event) => {
            // Enter saves a form while the field keeps the focus: why it does not is said at once.
            if (event.key === 'Enter' && draft && parsed && !parsed.ok) setDraft({ text: draft.text, left: true })
            onKeyDown?.(event)
          }}
        />
        {showsUnit(shown) ? <span className={styles.unit}>{unitLabel(unit)}</span> : null}
      </span>
      <FieldNotes error={problem} hint={hint} />
    </Field.Root>
  )
}

/** The unit stands beside the box until a person types one of their own. */
function showsUnit(text: string): boolean {
  return !/[^\d.,\s+−-]/.test(text)
}
