import { useEffect } from 'react'
import type { Theme } from './session.tsx'

/** Puts the chosen theme on the document; `system` follows the system while the page is open. */
export function useTheme(theme: Theme): void {
  useEffect(() => {
    const dark = window.matchMedia('(prefers-color-scheme: dark)')
    const apply = () => {
      document.documentElement.dataset.theme = theme === 'system' ? (dark.matches ? 'dark' : 'light') : theme
    }
    apply()
    dark.addEventListener('change', apply)
    return () => dark.removeEventListener('change', apply)
  }, [theme])
}
