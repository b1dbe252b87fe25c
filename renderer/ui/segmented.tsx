import { Toggle } from '@base-ui/react/toggle'
import { ToggleGroup } from '@base-ui/react/toggle-group'
import styles from './segmented.module.css'

type SegmentedProps<V extends string> = {
  label: string
  value: V
  choices: readonly { value: V; label: string }[]
  onChange: (value: V) => void
  large?: boolean
}

/** One of two to five, all in sight. */
export function Segmented<V extends string>({ label, value, choices, onChange, large }: SegmentedProps<V>) {
  return (
    <ToggleGroup
      aria-label={label}
      className={styles.group}
      data-large={large ? '' : undefined}
      value={[value]}
      onValueChange={(next) => {
        const picked = choices.find((choice) => choice.value === next[0])
        if (picked) onChange(picked.value)
      }}
    >
      {choices.map((choice) => (
        <Toggle key={choice.value} value={choice.value} className={styles.choice}>
          {choice.label}
        </Toggle>
      ))}
    </ToggleGroup>
  )
}
