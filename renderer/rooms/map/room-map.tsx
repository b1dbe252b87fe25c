import { useQuery } from '@tanstack/react-query'
import { type KeyboardEvent, useCallback, useEffect, useMemo, useState } from 'react'
import { Link, useLocation, useSearchParams } from 'wouter'
import { outlineOf } from '#core/rooms/geometry.ts'
import { orpc } from '#renderer/app/client.ts'
import { useCanChange, useFormatter, useSay, useSession } from '#renderer/app/session.tsx'
import { useWhy } from '#renderer/app/why.tsx'
import { Button } from '#renderer/ui/button.tsx'
import { EmptyState } from '#renderer/ui/empty-state.tsx'
import { ScreenHead } from '#renderer/ui/panel.tsx'
import { directionOf, neighbour } from '../plan/reading-order.ts'
import { boundsOf, type View } from '../plan/view-transform.ts'
import { wallRects } from '../plan/walls.ts'
import type { RoomPlan } from '../room-plan.ts'
import type { PointerNews } from './canvas-pointer.ts'
import { FiguresStrip } from './figures-strip.tsx'
import { NorthAndScale, ZoomBar } from './frame-marks.tsx'
import { DoorLayer, GroundLayer } from './ground-layer.tsx'
import { Legend } from './legend.tsx'
import { MapControls } from './map-controls.tsx'
import { useFaceLooks } from './map-look.ts'
import { usePanZoom } from './pan-zoom.ts'
import { PlanCanvas } from './plan-canvas.tsx'
import { PlaneLayer } from './plane-layer.tsx'
import { PlaneLegend } from './plane-legend.tsx'
import { PointLayer, pointsHaveRoom } from './point-layer.tsx'
import styles from './room-map.module.css'
import { isPlane, useShownPlane } from './shown-plane.ts'
import { useShownRun } from './shown-run.ts'
import { WallFaces } from './wall-faces.tsx'
import { WhyFilter } from './why-filter.tsx'
import { WhyRoom, WhyZone } from './why-room.tsx'
import { NeighbourNames, ZoneLayer, type ZoneLook, ZoneNames, zoneNameRects } from './zone-layer.tsx'

const NOTHING: ReadonlySet<string> = new Set()

/** The map in sight: stage, figures above it, legend below, reasons in the why-panel. */
export function RoomMap({ plan }: { plan: RoomPlan }) {
  const t = useSay()
  const formatter = useFormatter()
  const canChange = useCanChange()
  const [, goTo] = useLocation()
  const { certification } = useSession()
  const shown = useShownRun(plan.room.id, certification?.id ?? null)
  const why = useWhy()
  const [byVelocity, setByVelocity] = useState(false)
  const [search] = useSearchParams()
  const asked = search.get('select')
  const [selectedId, setSelectedId] = useState<string | null>(asked)
  const { setOpen: openWhy } = why
  // Found by name or linked from elsewhere: the address says which filter, also when this room is in sight already.
  useEffect(() => {
    if (asked === null) return
    setSelectedId(asked)
    openWhy(true)
  }, [asked, openWhy])
  const { looks, shade } = useFaceLooks(plan.terminals, shown.run, byVelocity)
  const outline = useMemo(() => outlineOf(plan.room.body.shape), [plan.room.body.shape])
  const content = useMemo(() => boundsOf([...outline, ...looks.flatMap((look) => look.corners)]), [outline, looks])
  const panZoom = usePanZoom(content, plan.room.id)
  const overPlane = isPlane(shown.run)
  const selection = useMemo(() => (selectedId ? new Set([selectedId]) : NOTHING), [selectedId])

  const detail = useQuery(
    orpc.runs.get.queryOptions({
      input: { runId: shown.run?.runId ?? '' },
      enabled: shown.run !== null && (selectedId !== null || overPlane),
    }),
  )
  const plane = useShownPlane(shown.run, detail.data)
  // A plane is measured beside all filters: they are outlines over its cells, without figures of their own.
  const faces = useMemo(() => (plane ? looks.map((look) => ({ ...look, text: { ...look.text, lines: [] } })) : looks), [plane, looks])
  const terminal = plan.terminals.find((candidate) => candidate.id === selectedId) ?? null
  const zone = plan.zones.find((candidate) => candidate.id === selectedId) ?? null
  const result = shown.run?.filters.find((filter) => filter.terminalId === selectedId) ?? null
  const locations = useMemo(
    () => detail.data?.locations.filter(({ terminalId, kind }) => terminalId === selectedId && kind === 'filter_point') ?? [],
    [detail.data, selectedId],
  )
  const zones = useMemo<ZoneLook[]>(
    () =>
      plan.zones.map((candidate) => {
        const verdict = shown.run?.zones.find((judged) => judged.zoneId === candidate.id)?.verdict ?? null
        const word = t(`app.verdict.${verdict ?? 'not_tested'}`, {})
        return { zone: candidate, verdict, caption: t('map.zone.caption', { name: candidate.body.name, verdict: word }) }
      }),
    [plan.zones, shown.run, t],
  )
  const written = useCallback((view: View) => [...zoneNameRects(zones, view), ...wallRects(outline, view)], [zones, outline])
  const around = useMemo(
    () => plan.neighbours.map((room) => ({ id: room.id, number: room.body.number, corners: outlineOf(room.body.shape) })),
    [plan.neighbours],
  )
  const walls = useMemo(() => plan.terminals.filter((candidate) => candidate.body.mounting === 'wall'), [plan.terminals])
  const kinds = useMemo(() => [...new Set(plan.terminals.map((candidate) => candidate.body.kind))], [plan.terminals])

  const goToFace = (id: string) => {
    setSelectedId(id)
    const bounds = boundsOf(looks.find((look) => look.id === id)?.corners ?? [])
    if (bounds) panZoom.reveal(bounds)
  }
  const openReadings = (id: string) => {
    if (shown.run?.filters.some(({ terminalId }) => terminalId === id)) goTo(`/run/${shown.run.runId}?terminal=${id}`)
  }
  const click = ({ id }: PointerNews) => {
    const known = id !== null && (looks.some((look) => look.id === id) || plan.zones.some((candidate) => candidate.id === id))
    setSelectedId(known ? id : null)
    if (known) why.setOpen(true)
  }
  const key = (event: KeyboardEvent): boolean => {
    // Shift and an arrow go on to the canvas, which pans.
    if (event.ctrlKey || event.metaKey || event.altKey || event.shiftKey || looks.length === 0) return false
    if (event.key === 'Escape') {
      setSelectedId(null)
      return selectedId !== null
    }
    if (event.key === 'Enter' && selectedId) {
      openReadings(selectedId)
      return true
    }
    const direction = directionOf(event.key)
    const from = looks.find((look) => look.id === selectedId)
    if (event.key !== 'Home' && event.key !== 'End' && !direction) return false
    const to = event.key === 'End' ? looks.at(-1) : direction && from ? neighbour(from, direction, looks) : looks[0]
    if (to) goToFace(to.id)
    return true
  }

  const inFace = terminal && terminal.body.mounting !== 'wall' && locations.length > 0 ? terminal : null
  const roomy = inFace !== null && pointsHaveRoom(locations, result, formatter, panZoom.view.pxPerM)
  const points = (values: boolean) =>
    inFace ? (
      <PointLayer centre={inFace.body} locations={locations} result={result} formatter={formatter} view={panZoom.view} roomy={values} />
    ) : null

  return (
    <div className={styles.screen}>
      <ScreenHead
        title={t('map.room.title', { number: plan.room.body.number, name: plan.room.body.name })}
        about={t('map.room.about', {
          facility: plan.facility.body.name,
          of: {
            cleanlinessClass: plan.room.body.cleanlinessClass,
            state: plan.room.body.occupancyState,
            airflow: plan.room.body.airflowType,
          },
        })}
        actions={
          <>
            <MapControls shown={shown} zones={plan.zones} byVelocity={byVelocity} onByVelocity={setByVelocity} />
            {canChange ? (
              <Button icon="edit" onClick={() => goTo(`/room/${plan.room.id}/edit`)}>
                {t('map.edit', {})}
              </Button>
            ) : null}
          </>
        }
      />
      <FiguresStrip room={plan.room} result={shown.run} />
      <PlanCanvas
        label={t('map.canvas', { number: plan.room.body.number, filters: looks.length })}
        keysHint={t('map.canvas.keys', {})}
        panZoom={panZoom}
        faces={faces}
        selection={selection}
        currentId={terminal?.id ?? null}
        ground={
          <>
            <GroundLayer outline={outline} neighbours={plan.neighbours} />
            <DoorLayer doors={plan.doors} selected={selection} />
            <ZoneLayer zones={zones} selected={selection} />
          </>
        }
        underLabels={
          <>
            {plane ? (
              <PlaneLayer cells={plane.cells} range={plane.range} faces={looks.map((look) => look.corners)} view={panZoom.view} />
            ) : null}
            {inFace && !roomy ? points(false) : null}
          </>
        }
        unlabelledId={inFace?.id ?? null}
        written={written}
        marks={(view) => (
          <>
            <NeighbourNames rooms={around} view={view} />
            <ZoneNames zones={zones} view={view} />
            {inFace && roomy ? points(true) : null}
          </>
        )}
        onClick={click}
        onDoubleClick={({ id }) => {
          if (id) openReadings(id)
        }}
        onKey={key}
        footer={
          <>
            <NorthAndScale northDegrees={plan.facility.body.northDegrees} pxPerM={panZoom.view.pxPerM} />
            <WallFaces walls={walls} looks={new Map(looks.map((look) => [look.id, look]))} selection={selection} onPick={goToFace} />
          </>
        }
      >
        <ZoomBar panZoom={panZoom} />
        {looks.length === 0 ? <NoFilters roomId={plan.room.id} canChange={canChange} /> : null}
      </PlanCanvas>
      {plane ? <PlaneLegend {...plane} /> : <Legend shade={shade} kinds={kinds} measured={shown.run !== null} />}
      {terminal ? (
        <WhyFilter
          key={terminal.id}
          terminal={terminal}
          element={plan.elements.find((element) => element.parentId === terminal.id && element.body.removedOn === null) ?? null}
          run={shown.run}
          result={result}
          locations={locations}
        />
      ) : zone ? (
        <WhyZone
          zone={zone}
          result={shown.run?.zones.find((judged) => judged.zoneId === zone.id) ?? null}
          runId={shown.run?.runId ?? null}
        />
      ) : (
        <WhyRoom room={plan.room} run={shown.run} failedAsFound={shown.failedAsFound} onFilter={goToFace} />
      )}
    </div>
  )
}

function NoFilters({ roomId, canChange }: { roomId: string; canChange: boolean }) {
  const t = useSay()
  return (
    <div className={styles.empty}>
      <EmptyState
        icon="filter"
        title={t('map.no_filters', {})}
        action={canChange ? <Link href={`/room/${roomId}/edit`}>{t('map.no_filters.draw', {})}</Link> : null}
      />
    </div>
  )
}
