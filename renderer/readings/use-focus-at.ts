import { type RefObject, useEffect } from 'react'

/**
 * The focus goes with the place, so that keys reach the face without a click and a screen reader hears where typing goes. It is never taken from
 * a field or button that someone is using.
 */
export function useFocusAt(face: RefObject<HTMLElement | null>, cellId: string | null): void {
  useEffect(() => {
    if (cellId === null) return
    const active = document.activeElement
    const free = active === null || active === document.body || active.tagName === 'MAIN' || face.current?.contains(active)
    const cell = document.getElementById(cellId)
    if (free) cell?.focus()
    else cell?.scrollIntoView({ block: 'nearest', inline: 'nearest' })
  }, [face, cellId])
}
