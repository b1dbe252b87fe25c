import { type PointerEvent as ReactPointerEvent, useEffect, useRef } from 'react'
import type { PlanPoint } from '#core/model/values.ts'
import { type Pixel, toPlan } from '../plan/view-transform.ts'
import type { PanZoom } from './pan-zoom.ts'

/** Which keys were held, and what was hit, when the pointer did something. */
export type PointerNews = { readonly at: PlanPoint; readonly id: string | null; readonly extend: boolean; readonly fine: boolean }

/** A drag that means something of its own, such as moving a filter; without one a drag pans. */
export type Gesture = {
  readonly move: (news: PointerNews) => void
  readonly end: (news: PointerNews) => void
  readonly cancel: () => void
}

type CanvasPointerOptions = {
  readonly beginGesture?: ((news: PointerNews) => Gesture | null) | undefined
  readonly onClick: (news: PointerNews) => void
  readonly onDoubleClick?: ((news: PointerNews) => void) | undefined
  readonly onHover?: ((news: PointerNews) => void) | undefined
}

const CLICK_REACH_PX = 5
const WHEEL_STEP = 0.0016

type Drag = { readonly pointerId: number; readonly from: Pixel; last: Pixel; moved: boolean; readonly gesture: Gesture | null }

/** Wheel, pinch, drag and click of the plan's window. Middle button and two fingers always pan and zoom. */
export function useCanvasPointer(panZoom: PanZoom, options: CanvasPointerOptions) {
  const { viewport, live, pan, zoom } = panZoom
  const dragRef = useRef<Drag | null>(null)
  const touchesRef = useRef(new Map<number, Pixel>())

  const pixelOf = (event: { clientX: number; clientY: number }): Pixel => {
    const box = viewport?.getBoundingClientRect()
    return { x: event.clientX - (box?.left ?? 0), y: event.clientY - (box?.top ?? 0) }
  }
  const newsOf = (event: ReactPointerEvent | React.MouseEvent, id?: string | null): PointerNews => ({
    at: toPlan(live(), pixelOf(event)),
    id: id === undefined ? idUnder(event.target) : id,
    extend: event.shiftKey || event.ctrlKey || event.metaKey,
    fine: event.altKey,
  })

  useEffect(() => {
    if (!viewport) return
    const wheel = (event: WheelEvent) => {
      event.preventDefault()
      const box = viewport.getBoundingClientRect()
      const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1
      if (event.shiftKey) pan(-(event.deltaX + event.deltaY) * lines, 0)
      else
        zoom(Math.exp(-event.deltaY * lines * (event.ctrlKey ? 6 : 1) * WHEEL_STEP), {
          x: event.clientX - box.left,
          y: event.clientY - box.top,
        })
    }
    // React listens to wheel passively; the page must not scroll under the plan.
    viewport.addEventListener('wheel', wheel, { passive: false })
    return () => viewport.removeEventListener('wheel', wheel)
  }, [viewport, pan, zoom])

  const pinch = (event: ReactPointerEvent) => {
    const before = [...touchesRef.current.values()]
    touchesRef.current.set(event.pointerId, pixelOf(event))
    const after = [...touchesRef.current.values()]
    const [a, b, c, d] = [before[0], before[1], after[0], after[1]]
    if (!a || !b || !c || !d) return
    const spread = (p: Pixel, q: Pixel) => Math.max(1, Math.hypot(p.x - q.x, p.y - q.y))
    const middle = { x: (c.x + d.x) / 2, y: (c.y + d.y) / 2 }
    pan(middle.x - (a.x + b.x) / 2, middle.y - (a.y + b.y) / 2)
    zoom(spread(c, d) / spread(a, b), middle)
  }

  return {
    onPointerDown: (event: ReactPointerEvent) => {
      if (event.button > 1) return
      const at = pixelOf(event)
      if (event.pointerType === 'touch') touchesRef.current.set(event.pointerId, at)
      if (touchesRef.current.size > 1) {
        dragRef.current?.gesture?.cancel()
        dragRef.current = null
        return
      }
      const gesture = event.button === 0 ? (options.beginGesture?.(newsOf(event)) ?? null) : null
      dragRef.current = { pointerId: event.pointerId, from: at, last: at, moved: false, gesture }
      if (event.button === 1) event.preventDefault()
    },
    onPointerMove: (event: ReactPointerEvent) => {
      if (touchesRef.current.size > 1) return pinch(event)
      const drag = dragRef.current
      if (!drag || drag.pointerId !== event.pointerId) {
        options.onHover?.(newsOf(event))
        return
      }
      const at = pixelOf(event)
      if (!drag.moved) {
        if (Math.hypot(at.x - drag.from.x, at.y - drag.from.y) < CLICK_REACH_PX) return
        drag.moved = true
        event.currentTarget.setPointerCapture(event.pointerId)
      }
      if (drag.gesture) drag.gesture.move(newsOf(event))
      else pan(at.x - drag.last.x, at.y - drag.last.y)
      drag.last = at
    },
    onPointerUp: (event: ReactPointerEvent) => {
      touchesRef.current.delete(event.pointerId)
      const drag = dragRef.current
      if (!drag || drag.pointerId !== event.pointerId) return
      dragRef.current = null
      if (drag.moved) drag.gesture?.end(newsOf(event))
      else {
        drag.gesture?.cancel()
        if (event.button === 0) options.onClick(newsOf(event))
      }
    },
    onPointerCancel: (event: ReactPointerEvent) => {
      touchesRef.current.delete(event.pointerId)
      dragRef.current?.gesture?.cancel()
      dragRef.current = null
    },
    onDoubleClick: (event: React.MouseEvent) => options.onDoubleClick?.(newsOf(event)),
  }
}

function idUnder(target: EventTarget | null): string | null {
  return target instanceof Element ? (target.closest('[data-id]')?.getAttribute('data-id') ?? null) : null
}
