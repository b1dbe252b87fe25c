import type { EntityBody } from '#core/model/entities.ts'
import type { Location } from '#core/model/readings.ts'
import { type Grid, proposeGrid } from '#core/planning/grid.ts'
import { type GridPlace, sweepOrder } from '#core/planning/sweep.ts'
import type { LayoutRequest, Pinned } from '../method.ts'

type Terminal = EntityBody<'terminal'>

const byTag = new Intl.Collator('en', { numeric: true })

/** Terminals in the order they are walked: by tag, numbers within tags by their value (F-2 before F-10). */
export function inPathOrder<T extends Pick<Pinned<'terminal'>, 'id' | 'body'>>(terminals: readonly T[]): T[] {
  return [...terminals].sort((a, b) => byTag.compare(a.body.tag, b.body.tag) || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0))
}

/** The grid of a terminal: its own, else the one proposed for its gross face. */
export function gridOf(terminal: Terminal): Grid {
  return terminal.grid ?? proposeGrid({ widthM: terminal.grossWidth.si, depthM: terminal.grossDepth.si })
}

/** How a face lies before the technician: quarter turns clockwise from the face's own depth direction to the way faced. */
function quarterTurns(terminal: Terminal, facingDegrees: number): 0 | 1 | 2 | 3 {
  // A wall face has up and right of its own, seen from the room; the way the technician faced on the plan has no say.
  if (terminal.mounting === 'wall') return 0
  const between = (((facingDegrees - terminal.rotationDegrees) % 360) + 360) % 360
  // Half-way turns (45 degrees) go to the smaller turn, always, so that a layout can be repeated.
  const turns = Math.ceil(between / 90 - 0.5) % 4
  return turns === 0 ? 0 : turns === 1 ? 1 : turns === 2 ? 2 : 3
}

/** Rows ahead and columns across as the technician sees the face; a quarter turn exchanges them. */
function gridAsFaced(terminal: Terminal, grid: Grid, facingDegrees: number): Grid {
  return quarterTurns(terminal, facingDegrees) % 2 === 0 ? grid : { rows: grid.columns, columns: grid.rows }
}

export type Offset = { readonly xM: number; readonly yM: number }

/** Turns an offset clockwise, seen from above (on a wall: from the room). */
export function turnedClockwise({ xM, yM }: Offset, degrees: number): Offset {
  const quarters = degrees / 90
  // Quarter turns are done exactly, so that a turned grid has the very offsets of the grid that was never turned.
  switch (quarters) {
    case 0:
      return { xM, yM }
    case 1:
      return { xM: yM, yM: 0 - xM }
    case 2:
      return { xM: 0 - xM, yM: 0 - yM }
    case 3:
      return { xM: 0 - yM, yM: xM }
  }
  const angle = (degrees * Math.PI) / 180
  return { xM: xM * Math.cos(angle) + yM * Math.sin(angle), yM: yM * Math.cos(angle) - xM * Math.sin(angle) }
}

function offsetOf(place: GridPlace, faced: Grid, terminal: Terminal, turns: 0 | 1 | 2 | 3): Offset {
  const turned = turns % 2 === 1
  const acrossM = turned ? terminal.grossDepth.si : terminal.grossWidth.si
  const aheadM = turned ? terminal.grossWidth.si : terminal.grossDepth.si
  const asFaced = {
    xM: ((place.column - 0.5) / faced.columns - 0.5) * acrossM,
    yM: (0.5 - (place.row - 0.5) / faced.rows) * aheadM,
  }
  const onFace = turnedClockwise(asFaced, turns * 90)
  return terminal.mounting === 'wall' ? onFace : turnedClockwise(onFace, terminal.rotationDegrees)
}

/**
 * Points of a face-velocity run, numbered from 1 in the order they are walked: filter by filter by tag, and there and back
 * within a filter. Nothing is mirrored: row 1 is farthest ahead as the technician faces, column 1 at the left hand, looking at
 * the plan from above; a wall face is seen from the room, row 1 at its top. Offsets are metres from the centre of the face in
 * plan coordinates (right, up), after the terminal's rotation (clockwise); on a wall right and up as seen from the room. A
 * grid's rows lie along the depth of the face and its columns along the width, whichever way the technician faces. A closed
 * terminal has no points: it is a recorded zero. Grids come from `gridFor`, else from {@link gridOf}.
 */
export function layOutFaceGrid(request: LayoutRequest): Location[] {
  const open = inPathOrder(request.terminals.filter((terminal) => terminal.body.closed === null))
  const points = open.flatMap((terminal): Omit<Location, 'number'>[] => {
    const grid = request.gridFor.get(terminal.id) ?? gridOf(terminal.body)
    const turns = quarterTurns(terminal.body, request.facingDegrees)
    const faced = gridAsFaced(terminal.body, grid, request.facingDegrees)
    const cellAreaM2 = (terminal.body.grossWidth.si * terminal.body.grossDepth.si) / (grid.rows * grid.columns)
    return sweepOrder(faced.rows, faced.columns).map((place) => {
      const { xM, yM } = offsetOf(place, faced, terminal.body, turns)
      return { kind: 'filter_point', terminalId: terminal.id, ...place, offsetXM: xM, offsetYM: yM, cellAreaM2 }
    })
  })
  return points.map((point, index) => ({ number: index + 1, ...point }))
}
