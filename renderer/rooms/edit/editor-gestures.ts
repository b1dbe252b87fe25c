import type { EntityChange } from '#core/api/entities.ts'
import type { CommandName } from '#core/model/audit.ts'
import type { PlanPoint, PlanShape, Uuid } from '#core/model/values.ts'
import { contains, outlineOf, terminalCorners } from '#core/rooms/geometry.ts'
import type { Gesture, PointerNews } from '../map/canvas-pointer.ts'
import { shift } from '../plan/alignment.ts'
import { doorPlace } from '../plan/door-place.ts'
import { insideMarquee, marqueeBetween } from '../plan/marquee.ts'
import { boxesOf, snapMove, snapPoint } from '../plan/snapping.ts'
import { boundsOf } from '../plan/view-transform.ts'
import { isRoom, pullWall, wallsOf } from '../plan/walls.ts'
import type { RoomPlan } from '../room-plan.ts'
import { cornersOfBox, NO_PREVIEW, type Preview } from './preview.ts'
import { edited, movedTerminals } from './room-changes.ts'

export type EditorTool = 'select' | 'place' | 'zone' | 'door' | 'walls' | 'outline'

export type GestureContext = {
  readonly plan: RoomPlan
  readonly tool: EditorTool
  readonly selection: ReadonlySet<string>
  readonly snap: boolean
  readonly pxPerM: number
  readonly select: (ids: ReadonlySet<string>) => void
  readonly show: (preview: Preview) => void
  readonly change: (name: CommandName, changes: readonly EntityChange[]) => void
  readonly makeZone: (boundary: PlanPoint[]) => void
}

const REACH_PX = 8

/** The drag that a tool means at this place; null lets the plan pan. */
export function editorGesture(context: GestureContext, news: PointerNews): Gesture | null {
  switch (context.tool) {
    case 'select': {
      if (news.id && context.plan.terminals.some((terminal) => terminal.id === news.id)) return moveGesture(context, news, news.id)
      const door = context.plan.doors.find((candidate) => candidate.id === news.id)
      return door ? doorGesture(context, door.id) : marqueeGesture(context, news)
    }
    case 'zone':
      return zoneGesture(context, news)
    case 'walls':
      return wallGesture(context, news)
    default:
      return null
  }
}

function moveGesture(context: GestureContext, from: PointerNews, id: Uuid): Gesture {
  const { plan } = context
  const chosen = context.selection.has(id) ? context.selection : new Set([id])
  const moving = plan.terminals.filter((terminal) => chosen.has(terminal.id))
  const placed = moving.map(({ id: own, body }) => ({ id: own, x: body.x, y: body.y, corners: terminalCorners(body) }))
  const box = boundsOf(placed.flatMap((item) => item.corners))
  const others = boxesOf([
    outlineOf(plan.room.body.shape),
    ...plan.terminals.filter((terminal) => !chosen.has(terminal.id)).map((terminal) => terminalCorners(terminal.body)),
  ])
  const movesTo = (news: PointerNews) => {
    const [dx, dy] = [news.at.x - from.at.x, news.at.y - from.at.y]
    const free = !context.snap || news.fine || !box
    const snapped = free ? { dx, dy, guides: [] } : snapMove(box, dx, dy, others, REACH_PX / context.pxPerM)
    return { moves: shift(placed, snapped.dx, snapped.dy), guides: snapped.guides }
  }
  return {
    move: (news) => {
      if (!context.selection.has(id)) context.select(chosen)
      context.show({ kind: 'moving', ...movesTo(news) })
    },
    end: (news) => {
      context.change('move', movedTerminals(moving, movesTo(news).moves))
      context.show(NO_PREVIEW)
    },
    cancel: () => context.show(NO_PREVIEW),
  }
}

function doorGesture(context: GestureContext, id: Uuid): Gesture {
  const door = context.plan.doors.find((candidate) => candidate.id === id)
  const outline = outlineOf(context.plan.room.body.shape)
  return {
    move: ({ at }) => {
      const place = doorPlace(outline, at)
      if (place) context.show({ kind: 'door', id, at: place.at, rotationDegrees: place.rotationDegrees })
    },
    end: ({ at }) => {
      const place = doorPlace(outline, at)
      if (door && place) {
        const otherId = context.plan.neighbours.find((room) => contains(outlineOf(room.body.shape), place.beyond))?.id ?? null
        const body = {
          ...door.body,
          ...place.at,
          rotationDegrees: place.rotationDegrees,
          roomIds: [context.plan.room.id, otherId] as [Uuid, Uuid | null],
        }
        context.change('move', [edited(door, body)])
      }
      context.show(NO_PREVIEW)
    },
    cancel: () => context.show(NO_PREVIEW),
  }
}

function marqueeGesture(context: GestureContext, from: PointerNews): Gesture {
  return {
    move: ({ at }) => context.show({ kind: 'marquee', box: marqueeBetween(from.at, at) }),
    end: ({ at }) => {
      const targets = context.plan.terminals.map((terminal) => ({
        id: terminal.id,
        corners: terminalCorners(terminal.body),
      }))
      const inside = insideMarquee(marqueeBetween(from.at, at), targets).map((target) => target.id)
      context.select(new Set(from.extend ? [...context.selection, ...inside] : inside))
      context.show(NO_PREVIEW)
    },
    cancel: () => context.show(NO_PREVIEW),
  }
}

function zoneGesture(context: GestureContext, from: PointerNews): Gesture {
  const corners = [
    ...outlineOf(context.plan.room.body.shape),
    ...context.plan.terminals.flatMap((terminal) => terminalCorners(terminal.body)),
  ]
  const snapped = ({ at, fine }: PointerNews) => (context.snap && !fine ? snapPoint(at, corners, REACH_PX / context.pxPerM) : at)
  const start = snapped(from)
  return {
    move: (news) => context.show({ kind: 'zone', box: marqueeBetween(start, snapped(news)) }),
    end: (news) => {
      const boundary = cornersOfBox(marqueeBetween(start, snapped(news)))
      if (isRoom(boundary)) context.makeZone(boundary)
      context.show(NO_PREVIEW)
    },
    cancel: () => context.show(NO_PREVIEW),
  }
}

/** Pulls the wall, or moves the corner, that the drag began at. */
function wallGesture(context: GestureContext, from: PointerNews): Gesture | null {
  const { room, neighbours } = context.plan
  const { shape } = room.body
  const outline = outlineOf(shape)
  const reach = REACH_PX / context.pxPerM
  const others = neighbours.flatMap((other) => outlineOf(other.body.shape))
  const corner = outline.findIndex((point) => Math.hypot(point.x - from.at.x, point.y - from.at.y) <= reach)
  const wall = wallsOf(outline).find((candidate) => distanceToWall(candidate, from.at) <= reach)
  const reshaped = (news: PointerNews): PlanShape | null => {
    const at = context.snap && !news.fine ? snapPoint(news.at, others, reach) : news.at
    if (corner >= 0 && shape.kind === 'polygon') {
      const points = outline.map((point, index) => (index === corner ? at : point))
      return isRoom(points) ? { kind: 'polygon', points } : null
    }
    if (!wall) return null
    return pullWall(shape, wall.index, (at.x - wall.from.x) * wall.outward.x + (at.y - wall.from.y) * wall.outward.y)
  }
  if (!wall && !(corner >= 0 && shape.kind === 'polygon')) return null
  return {
    move: (news) => {
      const next = reshaped(news)
      if (next) context.show({ kind: 'shape', shape: next })
    },
    end: (news) => {
      const next = reshaped(news)
      if (next) context.change('resize', [edited(room, { ...room.body, shape: next })])
      context.show(NO_PREVIEW)
    },
    cancel: () => context.show(NO_PREVIEW),
  }
}

function distanceToWall(wall: { from: PlanPoint; to: PlanPoint; lengthM: number }, at: PlanPoint): number {
  const share =
    ((at.x - wall.from.x) * (wall.to.x - wall.from.x) + (at.y - wall.from.y) * (wall.to.y - wall.from.y)) / (wall.lengthM ** 2 || 1)
  const held = Math.min(1, Math.max(0, share))
  return Math.hypot(at.x - wall.from.x - held * (wall.to.x - wall.from.x), at.y - wall.from.y - held * (wall.to.y - wall.from.y))
}
