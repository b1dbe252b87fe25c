import { memo, useEffect, useMemo, useRef, useSyncExternalStore } from 'react'
import type { PlanPoint } from '#core/model/values.ts'
import { type LabelRequest, type PlacedLabel, placeLabels } from '../plan/label-placement.ts'
import { overlaps, type Rect } from '../plan/rect.ts'
import { boundsOf, type Size, toPixel, type View } from '../plan/view-transform.ts'
import styles from './plan.module.css'
import { textWidth } from './text-width.ts'

export type FaceText = {
  readonly id: string
  readonly corners: readonly PlanPoint[]
  readonly tag: string
  /** worth showing in this order; the tag may be among them */
  readonly lines: readonly string[]
  readonly weight: number
  /** ink on a velocity shade; null takes the theme's */
  readonly ink: 'black' | 'white' | null
}

const LINE_PX = 15
const FAMILY = '12.5px "Source Sans 3 Variable", "Source Sans 3", sans-serif'
const FONT = `600 ${FAMILY}`
const STYLE = { lineHeight: LINE_PX, widthOf: (line: string) => textWidth(line, FONT) + 2, padding: 3 }
/** Labels are drawn this share of the window beyond each edge, so that a short pan finds them there. */
export const OVERSCAN = 0.25

type LabelLayerProps = {
  faces: readonly FaceText[]
  /** where words of others stand, in window pixels; the same function until they change */
  written?: ((view: View) => readonly Rect[]) | undefined
  view: View
  size: Size
}

/**
 * Values on the faces, as many as the zoom has room for. Painted on one canvas: hundreds of text elements would be laid out anew at every
 * zoom. Their words are in the names of the faces, for those who do not see them.
 */
export const LabelLayer = memo(function LabelLayer({ faces, written, view, size }: LabelLayerProps) {
  const canvasRef = useRef<HTMLCanvasElement>(null)
  const theme = useSyncExternalStore(followTheme, shownTheme)
  const palette = useMemo(() => paletteOf(theme), [theme])
  const window = useMemo<Rect>(
    () => ({
      left: -size.width * OVERSCAN,
      top: -size.height * OVERSCAN,
      width: size.width * (1 + 2 * OVERSCAN),
      height: size.height * (1 + 2 * OVERSCAN),
    }),
    [size],
  )
  const labels = useMemo(() => labelsOf(faces, view, window, size, written?.(view) ?? []), [faces, view, window, size, written])
  const inks = useMemo(() => new Map(faces.map((face) => [face.id, face])), [faces])
  useEffect(() => {
    const canvas = canvasRef.current
    if (canvas) paint(canvas, labels, inks, window, palette)
    // A font that arrives late is painted when it is there.
    let here = true
    if (canvas && !document.fonts.check(FONT))
      void document.fonts.load(FONT).then(() => here && paint(canvas, labels, inks, window, palette))
    return () => {
      here = false
    }
  }, [labels, inks, window, palette])
  return <canvas ref={canvasRef} className={styles.labels} style={window} />
})

function paint(
  canvas: HTMLCanvasElement,
  labels: readonly PlacedLabel[],
  faces: ReadonlyMap<string, FaceText>,
  window: Rect,
  palette: Palette,
): void {
  const context = canvas.getContext('2d')
  if (!context) return
  const density = globalThis.devicePixelRatio
  canvas.width = Math.ceil(window.width * density)
  canvas.height = Math.ceil(window.height * density)
  context.scale(density, density)
  context.translate(-window.left, -window.top)
  context.textAlign = 'center'
  context.lineJoin = 'round'
  context.lineWidth = 3.5
  context.strokeStyle = palette.ground
  for (const { id, lines, rect, inside } of labels) {
    const face = faces.get(id)
    const shaded = inside ? face?.ink : null
    context.fillStyle = shaded ?? palette.ink
    // The tag reads first, though the value is worth more where only one line fits.
    const ordered = lines.toSorted((a, b) => Number(b === face?.tag) - Number(a === face?.tag))
    ordered.forEach((line, index) => {
      const [x, y] = [rect.left + rect.width / 2, rect.top + (index + 0.78) * LINE_PX]
      context.font = line === face?.tag ? `400 ${FAMILY}` : FONT
      if (!shaded) context.strokeText(line, x, y)
      context.fillText(line, x, y)
    })
  }
}

function labelsOf(faces: readonly FaceText[], view: View, window: Rect, size: Size, written: readonly Rect[]): PlacedLabel[] {
  const requests: LabelRequest[] = []
  for (const { id, corners, lines, weight } of faces) {
    const bounds = boundsOf(corners)
    if (!bounds) continue
    const upperLeft = toPixel(view, { x: bounds.left, y: bounds.top })
    const face = {
      left: upperLeft.x,
      top: upperLeft.y,
      width: (bounds.right - bounds.left) * view.pxPerM,
      height: (bounds.top - bounds.bottom) * view.pxPerM,
    }
    if (overlaps(face, window)) requests.push({ id, face, lines, weight })
  }
  return placeLabels(requests, window, STYLE, { written, sight: { left: 0, top: 0, ...size } })
}

type Palette = { readonly theme: string; readonly ink: string; readonly ground: string }

/** A canvas knows no custom properties: the theme's colours are read from the page. */
function paletteOf(theme: string): Palette {
  const page = getComputedStyle(document.documentElement)
  return { theme, ink: page.getPropertyValue('--ink'), ground: page.getPropertyValue('--raised') }
}

const shownTheme = () => document.documentElement.dataset.theme ?? ''

function followTheme(changed: () => void): () => void {
  const observer = new MutationObserver(changed)
  observer.observe(document.documentElement, { attributeFilter: ['data-theme'] })
  return () => observer.disconnect()
}
