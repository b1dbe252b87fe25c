import { useCallback, useEffect, useMemo, useState } from 'react'
import { useLocation } from 'wouter'
import type { EntityChange } from '#core/api/entities.ts'
import type { CommandName } from '#core/model/audit.ts'
import type { Entity } from '#core/model/entities.ts'
import { outlineOf } from '#core/rooms/geometry.ts'
import { useProject, useSay } from '#renderer/app/session.tsx'
import { useWhy } from '#renderer/app/why.tsx'
import { Button } from '#renderer/ui/button.tsx'
import { ScreenHead } from '#renderer/ui/panel.tsx'
import { NorthAndScale, ZoomBar } from '../map/frame-marks.tsx'
import { DoorLayer, GroundLayer } from '../map/ground-layer.tsx'
import { usePanZoom } from '../map/pan-zoom.ts'
import { PlanCanvas } from '../map/plan-canvas.tsx'
import mapStyles from '../map/room-map.module.css'
import { NeighbourNames, ZoneLayer, ZoneNames, zoneNameRects } from '../map/zone-layer.tsx'
import { boundsOf, toPlan, type View } from '../plan/view-transform.ts'
import { wallRects } from '../plan/walls.ts'
import type { RoomPlan } from '../room-plan.ts'
import { DuplicateRoom } from './duplicate-room.tsx'
import { useEditLooks } from './edit-look.ts'
import styles from './editor.module.css'
import { editorActions } from './editor-actions.ts'
import { EditorBar } from './editor-bar.tsx'
import { type EditorTool, editorGesture } from './editor-gestures.ts'
import type { EditorTask } from './editor-keys.ts'
import { EditorPanel } from './editor-panel.tsx'
import { NO_PREVIEW, type Preview, previewedDoors, previewedTerminals } from './preview.ts'
import { PreviewLayer } from './preview-layer.tsx'
import { TerminalTable } from './terminal-table.tsx'
import { useEditorClicks } from './use-editor-clicks.ts'
import { useEditorKeys } from './use-editor-keys.ts'

export type RoomEditorProps = {
  plan: RoomPlan
  criteriaSets: readonly Entity<'criteria_set'>[]
  facilities: readonly Entity<'facility'>[]
  change: (name: CommandName, changes: readonly EntityChange[], reason?: string) => void
}

const NOTHING: ReadonlySet<string> = new Set()

/** The drawing board: the same plan as the map, with tools; properties of the selection stand in the side panel. */
export function RoomEditor({ plan, criteriaSets, facilities, change }: RoomEditorProps) {
  const t = useSay()
  const [, goTo] = useLocation()
  const { setOpen: openWhy } = useWhy()
  const [tool, setTool] = useState<EditorTool>('select')
  const [task, setTask] = useState<EditorTask | null>(null)
  const [table, setTable] = useState(false)
  const [snap, setSnap] = useState(true)
  const [selection, setSelection] = useState(NOTHING)
  const [currentId, setCurrentId] = useState<string | null>(null)
  // Properties stand in the side panel: the drawing board is no use without it.
  useEffect(() => openWhy(true), [openWhy])
  const [preview, setPreview] = useState<Preview>(NO_PREVIEW)
  const [copying, setCopying] = useState(false)

  const looks = useEditLooks(previewedTerminals(plan.terminals, preview))
  const outline = useMemo(() => outlineOf(plan.room.body.shape), [plan.room.body.shape])
  const content = useMemo(() => boundsOf([...outline, ...looks.flatMap((look) => look.corners)]), [outline, looks])
  const panZoom = usePanZoom(content, plan.room.id)
  const select = (ids: ReadonlySet<string>) => {
    setSelection(ids)
    setCurrentId(ids.size === 1 ? ([...ids][0] ?? null) : ids.size === 0 ? null : currentId)
    setTask(null)
  }
  const lengthUnit = useProject().body.display.length
  const actions = editorActions({ plan, selection, select, change, zoneName: (n) => t('map.zone.new', { n }), lengthUnit })
  const keys = useEditorKeys({
    plan,
    looks,
    selection,
    currentId,
    actions,
    panZoom,
    preview,
    tool,
    setPreview,
    setTool,
    setTask,
    setTable,
    setCurrentId,
    select,
    change,
  })
  const clicks = useEditorClicks({ plan, tool, selection, preview, actions, panZoom, setPreview, setTool, select, setCurrentId, setTask })
  const zones = useMemo(() => plan.zones.map((zone) => ({ zone, verdict: null, caption: zone.body.name })), [plan.zones])
  const written = useCallback((view: View) => [...zoneNameRects(zones, view), ...wallRects(outline, view)], [zones, outline])
  const around = useMemo(
    () => plan.neighbours.map((room) => ({ id: room.id, number: room.body.number, corners: outlineOf(room.body.shape) })),
    [plan.neighbours],
  )
  const endTask = () => {
    setTask(null)
    setPreview(NO_PREVIEW)
    panZoom.viewport?.focus()
  }

  return (
    <div className={mapStyles.screen}>
      <ScreenHead
        title={t('map.edit.title', { number: plan.room.body.number, name: plan.room.body.name })}
        about={t('map.edit.about', { n: plan.terminals.length, zones: plan.zones.length })}
        actions={
          <>
            <Button icon="copy" onClick={() => setCopying(true)}>
              {t('map.duplicate.open', {})}
            </Button>
            <Button kind="primary" icon="check" onClick={() => goTo(`/room/${plan.room.id}`)}>
              {t('map.edit.done', {})}
            </Button>
          </>
        }
      />
      <EditorBar
        tool={tool}
        onTool={(next) => {
          setTool(next)
          setPreview(NO_PREVIEW)
        }}
        table={table}
        onTable={setTable}
        snap={snap}
        onSnap={setSnap}
        actions={actions}
        onTask={setTask}
        onRow={keys.selectRow}
        onAll={keys.selectAll}
        onDuctSection={() => actions.placeDuctSection(toPlan(panZoom.live(), { x: panZoom.size.width / 2, y: panZoom.size.height / 2 }))}
      />
      {table ? (
        <TerminalTable terminals={plan.terminals} selection={selection} onSelect={select} change={change} />
      ) : (
        <PlanCanvas
          label={t('map.edit.canvas', { number: plan.room.body.number, filters: looks.length })}
          keysHint={t('map.edit.keys', {})}
          panZoom={panZoom}
          faces={looks}
          selection={selection}
          currentId={currentId}
          several
          cursor={tool === 'select' ? 'plain' : 'cross'}
          ground={
            <>
              <GroundLayer outline={outline} neighbours={plan.neighbours} />
              <ZoneLayer zones={zones} selected={selection} />
              <DoorLayer doors={previewedDoors(plan.doors, preview)} selected={selection} />
            </>
          }
          above={<PreviewLayer preview={preview} />}
          written={written}
          marks={(view) => (
            <>
              <NeighbourNames rooms={around} view={view} />
              <ZoneNames zones={zones} view={view} />
            </>
          )}
          beginGesture={(news) =>
            editorGesture(
              { plan, tool, selection, snap, pxPerM: panZoom.live().pxPerM, select, show: setPreview, change, makeZone: actions.makeZone },
              news,
            )
          }
          onClick={clicks.click}
          onDoubleClick={clicks.doubleClick}
          onHover={clicks.hover}
          onKey={keys.key}
          footer={<NorthAndScale northDegrees={plan.facility.body.northDegrees} pxPerM={panZoom.view.pxPerM} />}
        >
          <ZoomBar panZoom={panZoom} />
        </PlanCanvas>
      )}
      <p className={styles.hint}>
        {table ? t('map.table.hint', {}) : t('map.tool.hint', { of: { tool, selected: actions.chosen.length } })}
      </p>
      <EditorPanel
        plan={plan}
        criteriaSets={criteriaSets}
        selection={selection}
        task={task}
        actions={actions}
        change={change}
        show={setPreview}
        onEnd={endTask}
      />
      {copying ? <DuplicateRoom plan={plan} facilities={facilities} onClose={() => setCopying(false)} /> : null}
    </div>
  )
}
