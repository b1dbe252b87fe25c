import { Field } from '@base-ui/react/field'
import { Select as Base } from '@base-ui/react/select'
import { joined } from './class-names.ts'
import styles from './field.module.css'
import { Icon } from './icon.tsx'
import popup from './popup.module.css'
import { FieldNotes } from './text-field.tsx'

export type Choice<V extends string> = { value: V; label: string; detail?: string; disabled?: boolean }

type SelectProps<V extends string> = {
  label: string
  value: V | null
  choices: readonly Choice<V>[]
  onChange: (value: V) => void
  placeholder?: string
  error?: string | null
  hint?: string
  disabled?: boolean
  large?: boolean
  hideLabel?: boolean
  className?: string
}

/** One of a few. For long lists use the command palette's way of finding, or a text field with a list. */
export function Select<V extends string>(props: SelectProps<V>) {
  const { label, value, choices, onChange, placeholder, error, hint, disabled, large, hideLabel, className } = props
  return (
    <Field.Root className={joined(styles.field, large && styles.large, className)} invalid={Boolean(error)}>
      <Base.Root
        value={value}
        items={choices}
        disabled={disabled}
        modal={false}
        onValueChange={(next: V | null) => {
          if (next !== null) onChange(next)
        }}
      >
        <Base.Label className={hideLabel ? 'visually-hidden' : styles.label}>{label}</Base.Label>
        <Base.Trigger className={styles.trigger}>
          <Base.Value placeholder={placeholder} />
          <Icon name="down" size={15} />
        </Base.Trigger>
        <Base.Portal>
          <Base.Positioner className={popup.positioner} sideOffset={4} alignItemWithTrigger={false}>
            <Base.Popup className={popup.popup}>
              <Base.List>
                {choices.map((choice) => (
                  <Base.Item key={choice.value} value={choice.value} disabled={choice.disabled} className={popup.item}>
                    <Base.ItemIndicator>
                      <Icon name="check" size={15} />
                    </Base.ItemIndicator>
                    <Base.ItemText className={popup.text}>{choice.label}</Base.ItemText>
                    {choice.detail ? <span className={popup.detail}>{choice.detail}</span> : null}
                  </Base.Item>
                ))}
              </Base.List>
            </Base.Popup>
          </Base.Positioner>
        </Base.Portal>
      </Base.Root>
      <FieldNotes error={error} hint={hint} />
    </Field.Root>
  )
}
