import { Dialog as Base } from '@base-ui/react/dialog'
import type { ReactNode, RefObject } from 'react'
import { useSay } from '../app/words.tsx'
import { joined } from './class-names.ts'
import styles from './dialog.module.css'
import { Icon } from './icon.tsx'

type DialogProps = {
  open: boolean
  onClose: () => void
  title: string
  children: ReactNode
  /** buttons at the foot; the main one last */
  actions?: ReactNode
  wide?: boolean
  /** what gets the focus first; else the first control */
  initialFocus?: RefObject<HTMLElement | null>
  /** whether the focus goes back to where it was; not when another dialog follows at once */
  returnsFocus?: () => boolean
}

/** For a task of its own that cannot live in the stage. Never to ask "are you sure": there is undo. */
export function Dialog({ open, onClose, title, children, actions, wide, initialFocus, returnsFocus }: DialogProps) {
  const t = useSay()
  return (
    <Base.Root open={open} onOpenChange={(next) => (next ? undefined : onClose())}>
      <Base.Portal>
        <Base.Backdrop className={styles.backdrop} />
        <Base.Popup className={joined(styles.popup, wide && styles.wide)} initialFocus={initialFocus} finalFocus={returnsFocus}>
          <header className={styles.head}>
            <Base.Title className={styles.title}>{title}</Base.Title>
          </header>
          <div className={styles.body}>{children}</div>
          {actions ? <footer className={styles.foot}>{actions}</footer> : null}
          {/* last in order, so that the focus starts with what the dialog is about */}
          <Base.Close className={styles.close} aria-label={t('app.close', {})}>
            <Icon name="close" />
          </Base.Close>
        </Base.Popup>
      </Base.Portal>
    </Base.Root>
  )
}
