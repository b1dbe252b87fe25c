import { Checkbox as Base } from '@base-ui/react/checkbox'
import { Field } from '@base-ui/react/field'
import type { ReactNode } from 'react'
import styles from './field.module.css'
import { Icon } from './icon.tsx'

type CheckboxProps = {
  label: ReactNode
  checked: boolean
  onChange: (checked: boolean) => void
  disabled?: boolean
  /** some but not all of what it stands for */
  mixed?: boolean
  className?: string
}

export function Checkbox({ label, checked, onChange, disabled, mixed, className }: CheckboxProps) {
  return (
    <Field.Root disabled={disabled} className={className}>
      <Field.Label className={styles.check}>
        <Base.Root
          className={styles.checkbox}
          checked={checked}
          indeterminate={mixed}
          disabled={disabled}
          onCheckedChange={(next) => onChange(next)}
        >
          <Base.Indicator>
            <Icon name={mixed ? 'remove' : 'check'} size={14} />
          </Base.Indicator>
        </Base.Root>
        <span>{label}</span>
      </Field.Label>
    </Field.Root>
  )
}
