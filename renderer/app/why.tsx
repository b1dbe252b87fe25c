import { createContext, type ReactNode, use, useEffect, useMemo, useState } from 'react'
import { createPortal } from 'react-dom'
import styles from './why.module.css'

type WhyState = {
  host: HTMLElement | null
  setHost: (host: HTMLElement | null) => void
  filled: number
  setFilled: (change: (count: number) => number) => void
  open: boolean
  setOpen: (open: boolean) => void
}

const WhyContext = createContext<WhyState | null>(null)

export function WhyProvider({ children }: { children: ReactNode }) {
  const [host, setHost] = useState<HTMLElement | null>(null)
  const [filled, setFilled] = useState(0)
  const [open, setOpen] = useState(() => window.matchMedia('(min-width: 1360px)').matches)
  const state = useMemo(() => ({ host, setHost, filled, setFilled, open, setOpen }), [host, filled, open])
  return <WhyContext value={state}>{children}</WhyContext>
}

/** The why-panel itself: whether it is open, and how to open it (for example when something is selected on a narrow screen). */
export function useWhy(): { open: boolean; setOpen: (open: boolean) => void; empty: boolean; setHost: (host: HTMLElement | null) => void } {
  const state = use(WhyContext)
  if (!state) throw new Error('No WhyProvider above this component')
  return { open: state.open, setOpen: state.setOpen, empty: state.filled === 0, setHost: state.setHost }
}

/**
 * Puts its children into the why-panel for as long as it is mounted. Use it inside a screen, for what is selected there:
 * `<Why title={filter.tag}>...</Why>`. Mount one at a time.
 */
export function Why({ title, children }: { title: ReactNode; children: ReactNode }) {
  const state = use(WhyContext)
  const setFilled = state?.setFilled
  useEffect(() => {
    setFilled?.((count) => count + 1)
    return () => setFilled?.((count) => count - 1)
  }, [setFilled])
  if (!state?.host) return null
  return createPortal(
    <div className={styles.content}>
      <h2 className={styles.title}>{title}</h2>
      {children}
    </div>,
    state.host,
  )
}
