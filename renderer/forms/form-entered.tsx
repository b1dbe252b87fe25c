import type { ComponentProps } from 'react'
import type { Entered } from '#core/model/values.ts'
import { EnteredField } from '../ui/entered-field.tsx'
import type { FormState } from './use-form.ts'

type FormEnteredProps = Omit<ComponentProps<typeof EnteredField>, 'onChange' | 'error'> & {
  form: Pick<FormState<object>, 'unreadable' | 'problem'>
  /** where the value stands in what is saved: its problem is shown here */
  path: string
  onChange: (value: Entered | null) => void
}

/** A value with its unit in a form: text that cannot be read keeps the form from being saved, a problem shows at its place. */
export function FormEntered({ form, path, onChange, ...field }: FormEnteredProps) {
  return (
    <EnteredField
      {...field}
      onChange={(value, valid) => {
        form.unreadable(path, !valid)
        if (valid) onChange(value)
      }}
      error={form.problem(path)}
    />
  )
}
