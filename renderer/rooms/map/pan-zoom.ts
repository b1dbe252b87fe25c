import { type RefObject, useCallback, useEffect, useLayoutEffect, useRef, useState } from 'react'
import {
  type Bounds,
  bringIntoView,
  fitView,
  layerTransform,
  type Pixel,
  panBy,
  type Size,
  type View,
  zoomAt,
} from '../plan/view-transform.ts'
import { OVERSCAN } from './label-layer.tsx'

export type PanZoom = {
  /** the window onto the plan; null while it is not shown */
  readonly viewport: HTMLDivElement | null
  readonly setViewport: (viewport: HTMLDivElement | null) => void
  readonly sheetRef: RefObject<HTMLDivElement | null>
  /** the view that the picture is drawn for; it follows the live one when a gesture rests */
  readonly view: View
  readonly size: Size
  /** the view as the person sees it this moment */
  readonly live: () => View
  readonly pan: (dx: number, dy: number) => void
  readonly zoom: (factor: number, at?: Pixel) => void
  readonly showAll: (to?: Bounds) => void
  readonly reveal: (bounds: Bounds) => void
}

const REST_MS = 140
const MARGIN_PX = 40

/**
 * Pan and zoom without laying out the plan: while a gesture goes on, one transform moves the whole drawn sheet (the compositor's
 * work); when it rests, the plan is drawn once for the new view. `content` is fitted when first known, and when `key` changes.
 */
export function usePanZoom(content: Bounds | null, key: string): PanZoom {
  const [viewport, setViewport] = useState<HTMLDivElement | null>(null)
  const sheetRef = useRef<HTMLDivElement>(null)
  const [size, setSize] = useState<Size>({ width: 0, height: 0 })
  const [view, setView] = useState<View>({ pxPerM: 50, originX: 0, originY: 0 })
  const liveRef = useRef(view)
  const drawnRef = useRef(view)
  const frameRef = useRef(0)
  const restRef = useRef<ReturnType<typeof setTimeout> | undefined>(undefined)
  const sizeRef = useRef(size)
  sizeRef.current = size
  const contentRef = useRef(content)
  contentRef.current = content

  const place = useCallback(() => {
    frameRef.current = 0
    const sheet = sheetRef.current
    if (!sheet) return
    const { dx, dy, scale } = layerTransform(drawnRef.current, liveRef.current)
    sheet.style.transform = `translate(${dx}px, ${dy}px) scale(${scale})`
  }, [])

  // Until a person moves it, the whole room stays in sight however the window changes.
  const movedRef = useRef(false)
  const go = useCallback(
    (next: View, restMs = REST_MS) => {
      movedRef.current = true
      liveRef.current = next
      if (frameRef.current === 0) frameRef.current = requestAnimationFrame(place)
      clearTimeout(restRef.current)
      // A short pan needs no new drawing: the sheet reaches beyond the window, and just stays where it was moved to.
      if (stillCovers(drawnRef.current, next, sizeRef.current)) return
      restRef.current = setTimeout(() => setView(liveRef.current), restMs)
    },
    [place],
  )

  useLayoutEffect(() => {
    drawnRef.current = view
    place()
  }, [view, place])

  useEffect(
    () => () => {
      cancelAnimationFrame(frameRef.current)
      clearTimeout(restRef.current)
    },
    [],
  )

  useLayoutEffect(() => {
    if (!viewport) return
    const measure = () => {
      const { width, height } = viewport.getBoundingClientRect()
      setSize((before) => (before.width === width && before.height === height ? before : { width, height }))
    }
    measure()
    const observer = new ResizeObserver(measure)
    observer.observe(viewport)
    // A plan shown again is a new sheet: it takes its place before anything is seen of it.
    place()
    return () => observer.disconnect()
  }, [viewport, place])

  const pan = useCallback((dx: number, dy: number) => go(panBy(liveRef.current, dx, dy)), [go])
  const zoom = useCallback(
    (factor: number, at?: Pixel) =>
      go(zoomAt(liveRef.current, factor, at ?? { x: sizeRef.current.width / 2, y: sizeRef.current.height / 2 })),
    [go],
  )
  const showAll = useCallback(
    (to?: Bounds) => {
      const bounds = to ?? contentRef.current
      if (!bounds || sizeRef.current.width === 0) return
      go(fitView(bounds, sizeRef.current, MARGIN_PX), 0)
      movedRef.current = to !== undefined
    },
    [go],
  )
  const reveal = useCallback(
    (bounds: Bounds) => {
      const next = bringIntoView(liveRef.current, bounds, sizeRef.current, 24)
      if (next.originX !== liveRef.current.originX || next.originY !== liveRef.current.originY) go(next, 0)
    },
    [go],
  )

  const fittedRef = useRef<string | null>(null)
  const { width, height } = size
  const known = content !== null && width > 0 && height > 0
  useLayoutEffect(() => {
    const bounds = contentRef.current
    if (!known || !bounds || (fittedRef.current === key && movedRef.current)) return
    fittedRef.current = key
    movedRef.current = false
    const fitted = fitView(bounds, { width, height }, MARGIN_PX)
    liveRef.current = fitted
    setView(fitted)
  }, [known, key, width, height])

  const live = useCallback(() => liveRef.current, [])
  return { viewport, setViewport, sheetRef, view, size, live, pan, zoom, showAll, reveal }
}

function stillCovers(drawn: View, next: View, size: Size): boolean {
  return (
    drawn.pxPerM === next.pxPerM &&
    Math.abs(next.originX - drawn.originX) <= size.width * OVERSCAN &&
    Math.abs(next.originY - drawn.originY) <= size.height * OVERSCAN
  )
}
