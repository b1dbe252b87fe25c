import type { Entity } from '#core/model/entities.ts'
import type { PlanPoint, PlanShape } from '#core/model/values.ts'
import type { Moves } from '../plan/alignment.ts'
import type { Guide } from '../plan/snapping.ts'
import type { Bounds } from '../plan/view-transform.ts'

/** What a gesture under way shows before it becomes a command. */
export type Preview =
  | { readonly kind: 'none' }
  | { readonly kind: 'moving'; readonly moves: Moves; readonly guides: readonly Guide[] }
  | { readonly kind: 'door'; readonly id: string; readonly at: PlanPoint; readonly rotationDegrees: number }
  | { readonly kind: 'marquee' | 'zone'; readonly box: Bounds }
  | { readonly kind: 'shape'; readonly shape: PlanShape }
  | { readonly kind: 'outline'; readonly corners: readonly PlanPoint[]; readonly next: PlanPoint | null }
  | { readonly kind: 'ghosts'; readonly faces: readonly (readonly PlanPoint[])[] }

export const NO_PREVIEW: Preview = { kind: 'none' }

/** Terminals as they would stand. The ones that do not move stay the same objects, so that nothing of them is drawn again. */
export function previewedTerminals(terminals: readonly Entity<'terminal'>[], preview: Preview): readonly Entity<'terminal'>[] {
  if (preview.kind !== 'moving') return terminals
  return terminals.map((terminal) => {
    const to = preview.moves.get(terminal.id)
    return to ? { ...terminal, body: { ...terminal.body, ...to } } : terminal
  })
}

export function previewedDoors(doors: readonly Entity<'door'>[], preview: Preview): readonly Entity<'door'>[] {
  if (preview.kind !== 'door') return doors
  return doors.map((door) =>
    door.id === preview.id ? { ...door, body: { ...door.body, ...preview.at, rotationDegrees: preview.rotationDegrees } } : door,
  )
}

/** Corners of faces of one size around centres, for faces that do not exist yet. */
export function ghostFaces(centres: readonly PlanPoint[], width: number, depth: number): PlanPoint[][] {
  return centres.map(({ x, y }) => [
    { x: x - width / 2, y: y - depth / 2 },
    { x: x + width / 2, y: y - depth / 2 },
    { x: x + width / 2, y: y + depth / 2 },
    { x: x - width / 2, y: y + depth / 2 },
  ])
}

export const cornersOfBox = (box: Bounds): PlanPoint[] => [
  { x: box.left, y: box.bottom },
  { x: box.right, y: box.bottom },
  { x: box.right, y: box.top },
  { x: box.left, y: box.top },
]
