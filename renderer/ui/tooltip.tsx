import { Tooltip as Base } from '@base-ui/react/tooltip'
import type { ReactElement } from 'react'
import styles from './tooltip.module.css'

/** Says in words what a control does; never the only place where something is said. */
export function Tooltip({ text, keys, children }: { text: string; keys?: string | undefined; children: ReactElement }) {
  return (
    <Base.Root>
      <Base.Trigger render={children} />
      <Base.Portal>
        <Base.Positioner sideOffset={6}>
          {/* the control already carries this text as its name: said once is enough */}
          <Base.Popup className={styles.popup} aria-hidden="true">
            {text}
            {keys ? <kbd className={styles.keys}>{keys}</kbd> : null}
          </Base.Popup>
        </Base.Positioner>
      </Base.Portal>
    </Base.Root>
  )
}
