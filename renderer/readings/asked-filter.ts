import { useEffect, useRef } from 'react'
import { useSearchParams } from 'wouter'
import type { Uuid } from '#core/model/values.ts'

const PARAMETER = 'terminal'

/**
 * A run may be entered at one of its filters (`?terminal=…`, from the map, a comparison or a history): goes there once. The address then
 * forgets it, so that showing the page anew leads back to the work and not to where it began.
 */
export function useAskedFilter(go: (terminalId: Uuid) => void): void {
  const [search, setSearch] = useSearchParams()
  const asked = search.get(PARAMETER)
  const latest = useRef({ go, setSearch })
  latest.current = { go, setSearch }
  useEffect(() => {
    if (asked === null) return
    latest.current.go(asked)
    latest.current.setSearch(
      (before) => {
        const rest = new URLSearchParams(before)
        rest.delete(PARAMETER)
        return rest
      },
      { replace: true },
    )
  }, [asked])
}
