import { Field } from '@base-ui/react/field'
import type { HTMLInputAutoCompleteAttribute, KeyboardEvent, Ref } from 'react'
import { joined } from './class-names.ts'
import styles from './field.module.css'
import { Icon } from './icon.tsx'

type TextFieldProps = {
  label: string
  value: string
  onChange: (value: string) => void
  /** what is wrong, as a sentence; shown at the field, nothing typed is lost */
  error?: string | null
  hint?: string
  type?: 'text' | 'date' | 'number' | 'search'
  lines?: number
  placeholder?: string
  required?: boolean
  disabled?: boolean
  autoFocus?: boolean
  large?: boolean
  /** keeps the label for assistive technology only, for cells of a table */
  hideLabel?: boolean
  maxLength?: number
  list?: string
  name?: string
  autoComplete?: HTMLInputAutoCompleteAttribute
  inputRef?: Ref<HTMLInputElement>
  onBlur?: () => void
  onKeyDown?: (event: KeyboardEvent) => void
  className?: string
}

export function TextField(props: TextFieldProps) {
  const { label, value, onChange, error, hint, type = 'text', lines, large, hideLabel, inputRef, className, autoFocus, ...rest } = props
  const shared = {
    value,
    className: styles.input,
    // Base UI's control would otherwise announce its own validity; ours is the `error` that the caller hands in.
    'aria-invalid': error ? true : undefined,
    autoComplete: 'off',
    ...rest,
  } as const
  return (
    <Field.Root className={joined(styles.field, large && styles.large, className)} invalid={Boolean(error)}>
      <Field.Label className={hideLabel ? 'visually-hidden' : styles.label}>{label}</Field.Label>
      <span className={styles.box} data-invalid={error ? '' : undefined}>
        {lines ? (
          <Field.Control
            render={<textarea rows={lines} />}
            autoFocus={autoFocus}
            {...shared}
            onValueChange={(next: string) => onChange(next)}
          />
        ) : (
          <Field.Control ref={inputRef} type={type} autoFocus={autoFocus} {...shared} onValueChange={(next: string) => onChange(next)} />
        )}
      </span>
      <FieldNotes error={error} hint={hint} />
    </Field.Root>
  )
}

/** The line under a field: what is wrong, or else what belongs there. */
export function FieldNotes({ error, hint }: { error?: string | null | undefined; hint?: string | undefined }) {
  if (error) {
    return (
      <Field.Error match className={styles.error}>
        <Icon name="warn" size={15} />
        {error}
      </Field.Error>
    )
  }
  return hint ? <Field.Description className={styles.hint}>{hint}</Field.Description> : null
}
