import { type KeyboardEvent, memo, type ReactNode, useMemo } from 'react'
import type { Rect } from '../plan/rect.ts'
import type { Size, View } from '../plan/view-transform.ts'
import { type Gesture, type PointerNews, useCanvasPointer } from './canvas-pointer.ts'
import { FaceGrounds } from './face-grounds.tsx'
import type { FaceLook } from './face-look.ts'
import { FaceNode } from './face-node.tsx'
import { LabelLayer } from './label-layer.tsx'
import type { PanZoom } from './pan-zoom.ts'
import styles from './plan.module.css'
import { PlanHatches } from './plan-hatches.tsx'

export type PlanCanvasProps = {
  label: string
  keysHint: string
  panZoom: PanZoom
  /** in reading order: the order of the keyboard */
  faces: readonly FaceLook[]
  selection: ReadonlySet<string>
  currentId: string | null
  /** below the faces, in the sheet's metres */
  ground: ReactNode
  /** above the faces, in the sheet's metres */
  above?: ReactNode
  /** between faces and labels, in window pixels of the drawn view */
  underLabels?: ReactNode
  /** a face whose own label makes room, for its points */
  unlabelledId?: string | null
  /** where `marks` stand that labels keep clear of */
  written?: ((view: View) => readonly Rect[]) | undefined
  /** above everything, in window pixels of the drawn view */
  marks?: ((view: View, size: Size) => ReactNode) | undefined
  cursor?: 'pan' | 'cross' | 'plain'
  beginGesture?: ((news: PointerNews) => Gesture | null) | undefined
  onClick: (news: PointerNews) => void
  onDoubleClick?: ((news: PointerNews) => void) | undefined
  onHover?: ((news: PointerNews) => void) | undefined
  /** true when the key was used; what is left pans and zooms */
  onKey?: ((event: KeyboardEvent) => boolean) | undefined
  several?: boolean
  /** below the plan, inside its frame */
  footer?: ReactNode
  /** bars and pictures laid over the window */
  children?: ReactNode
}

const PAN_STEP_PX = 60
const ZOOM_STEP = 1.25

/** The window onto the plan. The map and the editor are both made of it. */
export function PlanCanvas(props: PlanCanvasProps) {
  const { label, keysHint, panZoom, faces, selection, currentId, ground, above, marks, cursor = 'pan' } = props
  const { setViewport, sheetRef, view, size, pan, zoom, showAll } = panZoom
  const pointer = useCanvasPointer(panZoom, props)

  const keys = (event: KeyboardEvent<HTMLElement>) => {
    if (!event.defaultPrevented && (props.onKey?.(event) || viewKey(event))) event.preventDefault()
  }
  const viewKey = (event: KeyboardEvent): boolean => {
    if (event.ctrlKey || event.metaKey || event.altKey) return false
    if (event.key === '+' || event.key === '=') zoom(ZOOM_STEP)
    else if (event.key === '-') zoom(1 / ZOOM_STEP)
    else if (event.key === '0') showAll()
    else if (event.key === 'ArrowLeft') pan(PAN_STEP_PX, 0)
    else if (event.key === 'ArrowRight') pan(-PAN_STEP_PX, 0)
    else if (event.key === 'ArrowUp') pan(0, PAN_STEP_PX)
    else if (event.key === 'ArrowDown') pan(0, -PAN_STEP_PX)
    else return false
    return true
  }

  const { unlabelledId } = props
  const texts = useMemo(
    () =>
      faces.flatMap((face) => {
        if (face.id === unlabelledId) return []
        return selection.has(face.id) ? { ...face.text, weight: 100 + face.text.weight } : face.text
      }),
    [faces, selection, unlabelledId],
  )
  return (
    <div className={styles.window} data-cursor={cursor}>
      {/* One stop of the Tab key: the filters are its options, and the keyboard stands on one of them. */}
      <div
        ref={setViewport}
        className={styles.viewport}
        role="listbox"
        aria-label={label}
        aria-description={keysHint}
        aria-multiselectable={props.several}
        aria-activedescendant={currentId && faces.some((face) => face.id === currentId) ? `face-${currentId}` : undefined}
        tabIndex={0}
        onKeyDown={keys}
        {...pointer}
      >
        <div ref={sheetRef} className={styles.sheet}>
          <svg width={Math.max(1, size.width)} height={Math.max(1, size.height)} className={styles.picture} role="presentation">
            <PlanHatches pxPerM={view.pxPerM} />
            <g transform={`matrix(${view.pxPerM} 0 0 ${view.pxPerM} ${view.originX} ${view.originY})`}>
              {ground}
              <FaceGrounds faces={faces} />
              <Faces faces={faces} selection={selection} currentId={currentId} />
              {above}
            </g>
            {props.underLabels}
            {marks?.(view, size)}
          </svg>
          <LabelLayer faces={texts} written={props.written} view={view} size={size} />
        </div>
      </div>
      {props.children}
      {props.footer ? <div className={styles.footer}>{props.footer}</div> : null}
    </div>
  )
}

const Faces = memo(function Faces({
  faces,
  selection,
  currentId,
}: {
  faces: readonly FaceLook[]
  selection: ReadonlySet<string>
  currentId: string | null
}) {
  return faces.map((face) => <FaceNode key={face.id} {...face.node} selected={selection.has(face.id)} current={face.id === currentId} />)
})
