import { Toast as Base } from '@base-ui/react/toast'
import { type ReactNode, useMemo } from 'react'
import { useFailureText, useSay } from '../app/words.tsx'
import { Icon } from './icon.tsx'
import styles from './toast.module.css'

/** Short notes at the foot of the window. For what went wrong with an input, say it at the field instead. */
export type Toasts = {
  note: (text: string, action?: { label: string; onSelect: () => void }) => void
  /** shows the sentence of whatever was thrown; stays until closed */
  problem: (error: unknown) => void
}

export function useToast(): Toasts {
  const manager = Base.useToastManager()
  const failureText = useFailureText()
  const { add } = manager
  return useMemo(
    () => ({
      note: (text, action) => {
        add({
          description: text,
          type: 'note',
          ...(action ? { actionProps: { children: action.label, onClick: action.onSelect }, timeout: 8000 } : {}),
        })
      },
      problem: (error) => {
        add({ description: failureText(error), type: 'problem', priority: 'high', timeout: 0 })
      },
    }),
    [add, failureText],
  )
}

export function ToastArea({ children }: { children: ReactNode }) {
  const t = useSay()
  return (
    <Base.Provider limit={4}>
      {children}
      <Base.Portal>
        <Base.Viewport className={styles.viewport} aria-label={t('app.toast.area', {})}>
          <ToastList />
        </Base.Viewport>
      </Base.Portal>
    </Base.Provider>
  )
}

function ToastList() {
  const { toasts } = Base.useToastManager()
  const t = useSay()
  return toasts.map((toast) => (
    <Base.Root
      key={toast.id}
      toast={toast}
      className={styles.toast}
      swipeDirection="down"
      aria-label={toast.type === 'problem' ? t('app.toast.problem', {}) : t('app.toast.note', {})}
    >
      <Base.Content className={styles.content}>
        <Icon name={toast.type === 'problem' ? 'warn' : 'info'} />
        <Base.Description className={styles.text} />
        <Base.Action className={styles.action} />
        <Base.Close className={styles.close} aria-label={t('app.close', {})}>
          <Icon name="close" size={15} />
        </Base.Close>
      </Base.Content>
    </Base.Root>
  ))
}
