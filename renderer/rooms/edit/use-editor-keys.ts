import type { KeyboardEvent } from 'react'
import type { EntityChange } from '#core/api/entities.ts'
import type { CommandName } from '#core/model/audit.ts'
import { useProject } from '#renderer/app/session.tsx'
import { useWhy } from '#renderer/app/why.tsx'
import type { FaceLook } from '../map/face-look.ts'
import type { PanZoom } from '../map/pan-zoom.ts'
import { neighbour, rowsOf } from '../plan/reading-order.ts'
import { boundsOf, toPlan } from '../plan/view-transform.ts'
import type { RoomPlan } from '../room-plan.ts'
import type { EditorActions } from './editor-actions.ts'
import type { EditorTool } from './editor-gestures.ts'
import { type EditorTask, editorKey } from './editor-keys.ts'
import { useNudging } from './nudging.ts'
import { NO_PREVIEW, type Preview } from './preview.ts'

type EditorKeysContext = {
  plan: RoomPlan
  looks: readonly FaceLook[]
  selection: ReadonlySet<string>
  currentId: string | null
  actions: EditorActions
  panZoom: PanZoom
  preview: Preview
  tool: EditorTool
  setPreview: (preview: Preview) => void
  setTool: (tool: EditorTool) => void
  setTask: (task: EditorTask | null) => void
  setTable: (table: boolean) => void
  setCurrentId: (id: string | null) => void
  select: (ids: ReadonlySet<string>) => void
  change: (name: CommandName, changes: readonly EntityChange[]) => void
}

/** Pressed on the way to another key: they end nothing. */
const MODIFIERS: ReadonlySet<string> = new Set(['Shift', 'Control', 'Alt', 'Meta'])

/** Keys on the plan under edit: everything the pointer can do to filters, without one. */
export function useEditorKeys(context: EditorKeysContext) {
  const { plan, looks, selection, currentId, actions, panZoom, preview, tool } = context
  const why = useWhy()
  const lengthUnit = useProject().body.display.length
  const { nudge, settle } = useNudging(actions.chosen, context.setPreview, context.change)

  const selectAll = () => context.select(new Set(plan.terminals.map((terminal) => terminal.id)))
  const selectRow = () => {
    const rows = rowsOf(looks).filter((row) => row.some((look) => selection.has(look.id)))
    context.select(new Set(rows.flat().map((look) => look.id)))
  }
  const go = (direction: Parameters<typeof neighbour>[1], extend: boolean) => {
    const from = looks.find((look) => look.id === currentId)
    const to = from ? neighbour(from, direction, looks) : looks[0]
    if (!to) return
    context.select(new Set(extend ? [...selection, to.id] : [to.id]))
    context.setCurrentId(to.id)
    const bounds = boundsOf(to.corners)
    if (bounds) panZoom.reveal(bounds)
  }
  const letGo = () => {
    if (preview.kind !== 'none') context.setPreview(NO_PREVIEW)
    else if (tool !== 'select') context.setTool('select')
    else context.select(new Set())
    context.setTask(null)
  }
  const openTask = (task: EditorTask) => {
    why.setOpen(true)
    context.setTask(task)
  }

  const key = (event: KeyboardEvent): boolean => {
    if (event.key === 'Enter' && preview.kind === 'outline') {
      if (actions.outlined(preview.corners)) {
        context.setPreview(NO_PREVIEW)
        context.setTool('select')
      }
      return true
    }
    if (MODIFIERS.has(event.key)) return false
    const meant = editorKey(event, actions.chosen.length, lengthUnit)
    if (meant?.do !== 'nudge') settle()
    if (!meant) return false
    switch (meant.do) {
      case 'nudge':
        nudge(meant.dx, meant.dy)
        return true
      case 'go':
        go(meant.direction, meant.extend)
        return true
      case 'open':
        if (meant.task !== 'array' && actions.chosen.length === 0) return false
        openTask(meant.task)
        return true
      case 'all':
        selectAll()
        return true
      case 'row':
        selectRow()
        return true
      case 'remove':
        actions.remove()
        return true
      case 'duplicate':
        actions.copy(actions.duplicate())
        return true
      case 'escape':
        letGo()
        return true
      case 'place':
        actions.placeAt(toPlan(panZoom.live(), { x: panZoom.size.width / 2, y: panZoom.size.height / 2 }))
        return true
      case 'table':
        context.setTable(true)
        return true
      case 'properties':
        why.setOpen(true)
        requestAnimationFrame(() => document.querySelector<HTMLElement>('aside input, aside textarea')?.focus())
        return true
    }
  }
  return { key, selectAll, selectRow }
}
