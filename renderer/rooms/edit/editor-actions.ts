import type { EntityChange } from '#core/api/entities.ts'
import type { CommandName } from '#core/model/audit.ts'
import type { Entity } from '#core/model/entities.ts'
import type { PlanPoint } from '#core/model/values.ts'
import { contains, outlineOf, terminalCorners } from '#core/rooms/geometry.ts'
import { newId } from '#renderer/app/session.tsx'
import { type Alignment, type Axis, align, distribute, type Placed } from '../plan/alignment.ts'
import { tidy } from '../plan/array-placement.ts'
import { doorPlace } from '../plan/door-place.ts'
import { snapPoint } from '../plan/snapping.ts'
import { nextPattern, tagSequence } from '../plan/tag-sequence.ts'
import { boundsOf } from '../plan/view-transform.ts'
import { isRoom } from '../plan/walls.ts'
import type { RoomPlan } from '../room-plan.ts'
import type { ArrayPlan } from './array-form.tsx'
import { withKind } from './duct-changes.ts'
import { freshDoor, freshTerminal, freshZone } from './fresh-bodies.ts'
import { created, edited, gatheredInto, movedTerminals, newTerminals, removed, removedZone, zoneAt } from './room-changes.ts'

type ActionsContext = {
  readonly plan: RoomPlan
  readonly selection: ReadonlySet<string>
  readonly select: (ids: ReadonlySet<string>) => void
  readonly change: (name: CommandName, changes: readonly EntityChange[]) => void
  /** name of the nth zone, in words */
  readonly zoneName: (n: number) => string
  readonly lengthUnit: 'm' | 'ft'
}

export type EditorActions = ReturnType<typeof editorActions>

/** What the editor can do to the room, each one command. Pictures, keys, menus and forms all end here. */
export function editorActions({ plan, selection, select, change, zoneName, lengthUnit }: ActionsContext) {
  const chosen = plan.terminals.filter((terminal) => selection.has(terminal.id))
  const roomId = plan.room.id
  const allTags = plan.terminals.map((terminal) => terminal.body.tag)

  const create = (changes: EntityChange[], name: CommandName) => {
    change(name, changes)
    select(new Set(changes.flatMap((one) => (one.revision === null ? [one.id] : []))))
  }
  const tagsLike = (sources: readonly Entity<'terminal'>[]): string[] => {
    const taken = [...allTags]
    return sources.map((source) => {
      const sequence = tagSequence(nextPattern(plan.room.body.number, taken, source.body.tag), 1)
      const tag = (sequence.ok ? sequence.tags[0] : undefined) ?? source.body.tag
      taken.push(tag)
      return tag
    })
  }

  return {
    chosen,
    align: (to: Alignment) => change('align', movedTerminals(chosen, align(chosen.map(placedTerminal), to))),
    distribute: (axis: Axis) => change('align', movedTerminals(chosen, distribute(chosen.map(placedTerminal), axis))),
    remove: () => {
      const doors = plan.doors.filter((door) => selection.has(door.id))
      const zones = plan.zones.filter((zone) => selection.has(zone.id))
      change('remove', [...chosen.map(removed), ...doors.map(removed), ...zones.flatMap((zone) => removedZone(zone, plan.terminals))])
      select(new Set())
    },
    copy: (offsets: readonly PlanPoint[]) => {
      const sources = offsets.flatMap((offset) => chosen.map((terminal) => ({ terminal, offset })))
      const tags = tagsLike(sources.map(({ terminal }) => terminal))
      create(
        sources.map(({ terminal, offset }, index) => {
          const at = { x: tidy(terminal.body.x + offset.x), y: tidy(terminal.body.y + offset.y) }
          return created('terminal', newId(), roomId, {
            ...terminal.body,
            ...at,
            tag: tags[index] ?? terminal.body.tag,
            zoneId: zoneAt(plan.zones, at),
          })
        }),
        'copy',
      )
    },
    duplicate: () => {
      const box = boundsOf(chosen.flatMap((terminal) => terminalCorners(terminal.body)))
      return box ? [{ x: tidy(box.right - box.left), y: 0 }] : []
    },
    tag: (tags: ReadonlyMap<string, string>) =>
      change(
        'rename',
        chosen.flatMap((terminal) => {
          const tag = tags.get(terminal.id)
          return tag !== undefined && tag !== terminal.body.tag ? [edited(terminal, { ...terminal.body, tag })] : []
        }),
      ),
    placeArray: ({ like, centres, tags }: ArrayPlan) => create(newTerminals(roomId, like, centres, tags, plan.zones, newId), 'arrange'),
    placeAt: (at: PlanPoint) => {
      const like = chosen[0] ?? plan.terminals.at(-1) ?? null
      const sequence = tagSequence(nextPattern(plan.room.body.number, allTags, like?.body.tag), 1)
      const tag = (sequence.ok ? sequence.tags[0] : undefined) ?? plan.room.body.number
      const body = like ? { ...like.body, note: '', closed: null } : freshTerminal(tag, at, null, lengthUnit)
      create(newTerminals(roomId, body, [{ x: tidy(at.x), y: tidy(at.y) }], [tag], plan.zones, newId), 'create')
    },
    placeDuctSection: (at: PlanPoint) => {
      const last = plan.terminals.findLast(({ body }) => body.kind === 'duct_section')
      const sequence = tagSequence(nextPattern(plan.room.body.number, allTags, last?.body.tag), 1)
      const tag = (sequence.ok ? sequence.tags[0] : undefined) ?? plan.room.body.number
      const body = last ? { ...last.body, note: '', closed: null } : withKind(freshTerminal(tag, at, null, lengthUnit), 'duct_section')
      create(newTerminals(roomId, body, [{ x: tidy(at.x), y: tidy(at.y) }], [tag], [], newId), 'create')
    },
    makeZone: (boundary: PlanPoint[]) => {
      const id = newId()
      create(
        [
          created('zone', id, roomId, freshZone(zoneName(plan.zones.length + 1), boundary, plan.room.body)),
          ...gatheredInto(id, boundary, plan.terminals),
        ],
        'create',
      )
    },
    placeDoor: (near: PlanPoint) => {
      const place = doorPlace(outlineOf(plan.room.body.shape), near)
      if (!place) return
      const other = plan.neighbours.find((room) => contains(outlineOf(room.body.shape), place.beyond))
      create([created('door', newId(), plan.facility.id, freshDoor(roomId, other?.id ?? null, place.at, place.rotationDegrees))], 'create')
    },
    outlined: (corners: readonly PlanPoint[]): boolean => {
      if (!isRoom(corners)) return false
      change('resize', [edited(plan.room, { ...plan.room.body, shape: { kind: 'polygon', points: [...corners] } })])
      return true
    },
    cornerAt: (at: PlanPoint, reachM: number): PlanPoint =>
      snapPoint(
        at,
        plan.neighbours.flatMap((room) => outlineOf(room.body.shape)),
        reachM,
      ),
  }
}

export function placedTerminal({ id, body }: Entity<'terminal'>): Placed {
  return { id, x: body.x, y: body.y, corners: terminalCorners(body) }
}
