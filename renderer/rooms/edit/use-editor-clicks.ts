import type { PointerNews } from '../map/canvas-pointer.ts'
import type { PanZoom } from '../map/pan-zoom.ts'
import type { RoomPlan } from '../room-plan.ts'
import type { EditorActions } from './editor-actions.ts'
import type { EditorTool } from './editor-gestures.ts'
import type { EditorTask } from './editor-keys.ts'
import { NO_PREVIEW, type Preview } from './preview.ts'

type EditorClicksContext = {
  plan: RoomPlan
  tool: EditorTool
  selection: ReadonlySet<string>
  preview: Preview
  actions: EditorActions
  panZoom: PanZoom
  setPreview: (preview: Preview) => void
  setTool: (tool: EditorTool) => void
  setTask: (task: EditorTask | null) => void
  setCurrentId: (id: string | null) => void
  select: (ids: ReadonlySet<string>) => void
}

const CLOSE_PX = 10

/** What a click means with each tool. */
export function useEditorClicks(context: EditorClicksContext) {
  const { tool, selection, preview, actions, panZoom } = context

  const finishOutline = () => {
    if (preview.kind !== 'outline') return
    if (actions.outlined(preview.corners)) {
      context.setPreview(NO_PREVIEW)
      context.setTool('select')
    }
  }
  const addCorner = (news: PointerNews) => {
    const reachM = CLOSE_PX / panZoom.live().pxPerM
    const at = actions.cornerAt(news.at, reachM)
    const corners = preview.kind === 'outline' ? preview.corners : []
    const first = corners[0]
    if (first && corners.length >= 3 && Math.hypot(first.x - at.x, first.y - at.y) <= reachM) finishOutline()
    else context.setPreview({ kind: 'outline', corners: [...corners, at], next: null })
  }
  const pick = ({ id, extend }: PointerNews) => {
    if (id === null) {
      if (!extend) context.select(new Set())
      return
    }
    const next = new Set(extend ? selection : [])
    if (extend && selection.has(id)) next.delete(id)
    else next.add(id)
    context.select(next)
    context.setCurrentId(id)
  }

  return {
    click: (news: PointerNews) => {
      switch (tool) {
        case 'select':
        case 'walls':
        case 'zone':
          return pick(news)
        case 'place':
          return actions.placeAt(actions.cornerAt(news.at, 0))
        case 'door':
          return actions.placeDoor(news.at)
        case 'outline':
          return addCorner(news)
      }
    },
    doubleClick: () => {
      if (tool === 'outline') finishOutline()
    },
    // Only while an outline is drawn does the plan follow a pointer that presses nothing.
    hover:
      preview.kind === 'outline'
        ? (news: PointerNews) => context.setPreview({ ...preview, next: actions.cornerAt(news.at, CLOSE_PX / panZoom.live().pxPerM) })
        : undefined,
  }
}
