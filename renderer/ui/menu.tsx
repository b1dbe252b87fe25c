import { Menu as Base } from '@base-ui/react/menu'
import { Fragment, type ReactElement } from 'react'
import { Icon, type IconName } from './icon.tsx'
import popup from './popup.module.css'

export type MenuEntry = {
  label: string
  onSelect: () => void
  icon?: IconName
  keys?: string
  disabled?: boolean
  checked?: boolean
  /** draws a line above */
  startsGroup?: boolean
}

/** A menu of commands that opens from `trigger`, a Button or IconButton. */
export function Menu({ trigger, entries }: { trigger: ReactElement; entries: readonly MenuEntry[] }) {
  return (
    <Base.Root modal={false}>
      <Base.Trigger render={trigger} />
      <Base.Portal>
        <Base.Positioner className={popup.positioner} sideOffset={4} align="start">
          <Base.Popup className={popup.popup}>
            {entries.map((entry) => (
              <Fragment key={entry.label}>
                {entry.startsGroup ? <Base.Separator className={popup.separator} /> : null}
                <Base.Item className={popup.item} disabled={entry.disabled} onClick={entry.onSelect}>
                  <span>{entry.checked ? <Icon name="check" size={15} /> : entry.icon ? <Icon name={entry.icon} size={16} /> : null}</span>
                  <span className={popup.text}>{entry.label}</span>
                  {entry.keys ? <kbd className={popup.detail}>{entry.keys}</kbd> : null}
                </Base.Item>
              </Fragment>
            ))}
          </Base.Popup>
        </Base.Positioner>
      </Base.Portal>
    </Base.Root>
  )
}
