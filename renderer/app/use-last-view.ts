import { useEffect, useRef } from 'react'
import { useLocation } from 'wouter'
import { api } from './client.ts'
import { readView, writeView } from './last-view.ts'
import { useSession } from './session.tsx'

/** Longer than a person takes to pass through a screen on the way to another. */
const SETTLED_MS = 700

/** Keeps the place with the file, and goes back to it when the page starts without an address of its own. */
export function useLastView(): void {
  const { files, certification } = useSession()
  const [address, go] = useLocation()
  const startedAt = useRef<string | null>(null)
  const open = files?.open ?? null

  useEffect(() => {
    if (startedAt.current !== null || !files) return
    startedAt.current = window.location.hash
    const isBlank = window.location.hash === '' || window.location.hash === '#/' || window.location.hash === '#'
    if (isBlank && open) go(readView(open.lastView).address ?? '/site', { replace: true })
  }, [files, open, go])

  const view = open && address !== '/' ? writeView({ address, certificationId: certification?.id ?? null }) : null
  const path = open?.path
  useEffect(() => {
    if (!view || !path) return
    const timer = setTimeout(() => void api.files.settings({ view }).catch(() => undefined), SETTLED_MS)
    return () => clearTimeout(timer)
  }, [view, path])
}
