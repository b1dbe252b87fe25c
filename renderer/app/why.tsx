import { createContext, type ReactNode, use, useEffect, useLayoutEffect, useMemo, useState } from 'react'
import { createPortal } from 'react-dom'
import styles from './why.module.css'

type WhyState = {
  host: HTMLElement | null
  setHost: (host: HTMLElement | null) => void
  filled: number
  setFilled: (change: (count: number) => number) => void
  bare: number
  setBare: (change: (count: number) => number) => void
  open: boolean
  setOpen: (open: boolean) => void
}

const WhyContext = createContext<WhyState | null>(null)

export function WhyProvider({ children }: { children: ReactNode }) {
  const [host, setHost] = useState<HTMLElement | null>(null)
  const [filled, setFilled] = useState(0)
  const [bare, setBare] = useState(0)
  const [open, setOpen] = useState(() => window.matchMedia('(min-width: 1360px)').matches)
  const state = useMemo(() => ({ host, setHost, filled, setFilled, bare, setBare, open, setOpen }), [host, filled, bare, open])
  return <WhyContext value={state}>{children}</WhyContext>
}

/** The why-panel itself: whether it is open, and how to open it (for example when something is selected on a narrow screen). */
export function useWhy(): {
  open: boolean
  setOpen: (open: boolean) => void
  empty: boolean
  /** the screen in sight has nothing to select: the panel stays a rail, and is as it was on the next screen */
  bare: boolean
  setHost: (host: HTMLElement | null) => void
} {
  const state = use(WhyContext)
  if (!state) throw new Error('No WhyProvider above this component')
  return { open: state.open, setOpen: state.setOpen, empty: state.filled === 0, bare: state.bare > 0, setHost: state.setHost }
}

/** For a screen on which nothing can be selected: gives the why-panel's room to the stage for as long as the screen is mounted. */
export function useNoWhy(): void {
  const setBare = use(WhyContext)?.setBare
  // Before the first paint, so that the stage does not jump.
  useLayoutEffect(() => {
    setBare?.((count) => count + 1)
    return () => setBare?.((count) => count - 1)
  }, [setBare])
}

/** The same, for a part of a screen: an empty state, or a sentence that there is nothing here. */
export function NoWhy() {
  useNoWhy()
  return null
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
