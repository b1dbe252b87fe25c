/** Quarter turns of the view, clockwise as the technician turns: 1 means he now faces what was at his right hand. */
export type QuarterTurns = 0 | 1 | 2 | 3

/** Place of a point on a face, row 1 farthest ahead and column 1 at the left hand. */
export type FacePlace = { readonly row: number; readonly column: number }
export type FaceSize = { readonly rows: number; readonly columns: number }

/** One more (or one less) quarter turn. */
export function turnBy(turns: QuarterTurns, step: 1 | -1): QuarterTurns {
  const next = (turns + step + 4) % 4
  return next === 0 ? 0 : next === 1 ? 1 : next === 2 ? 2 : 3
}

/** Rows and columns of the face after the view was turned. */
export function turnedSize(size: FaceSize, turns: QuarterTurns): FaceSize {
  return turns % 2 === 0 ? size : { rows: size.columns, columns: size.rows }
}

/**
 * Where a point stands on the screen after the technician turned. The screen turns against him, so that up stays the way he
 * faces: a rotation, never a mirror image. The point's number does not change.
 */
export function turnPlace(place: FacePlace, size: FaceSize, turns: QuarterTurns): FacePlace {
  switch (turns) {
    case 0:
      return place
    case 1:
      return { row: size.columns - place.column + 1, column: place.row }
    case 2:
      return { row: size.rows - place.row + 1, column: size.columns - place.column + 1 }
    case 3:
      return { row: place.column, column: size.rows - place.row + 1 }
  }
}

/** Rows and columns that the points of one face span. */
export function sizeOf(places: readonly FacePlace[]): FaceSize {
  let rows = 1
  let columns = 1
  for (const place of places) {
    rows = Math.max(rows, place.row)
    columns = Math.max(columns, place.column)
  }
  return { rows, columns }
}

/**
 * Angle of north on the screen, degrees clockwise from screen-up in [0, 360).
 * `northDegrees` is clockwise from plan-up to north, `facingDegrees` clockwise from plan-up to where row 1 lies.
 */
export function northOnScreenDegrees(northDegrees: number, facingDegrees: number, turns: QuarterTurns): number {
  const angle = (northDegrees - facingDegrees - 90 * turns) % 360
  return angle < 0 ? angle + 360 : angle
}

type Faced = {
  readonly mounting: 'ceiling' | 'wall' | 'duct'
  readonly rotationDegrees: number
  readonly grossWidth: { readonly si: number }
  readonly grossDepth: { readonly si: number }
}

/** Width over height of a face as it is seen on the screen. */
export function faceAspect(terminal: Faced, facingDegrees: number, turns: QuarterTurns): number {
  const aspect = terminal.grossWidth.si / terminal.grossDepth.si
  if (terminal.mounting === 'wall') return aspect
  const quarters = Math.round((facingDegrees + 90 * turns - terminal.rotationDegrees) / 90)
  return quarters % 2 === 0 ? aspect : 1 / aspect
}

/** A vector of the plan as the technician sees it: `across` to his right hand, `ahead` the way he faces. */
export function asFaced(dx: number, dy: number, facingDegrees: number, turns: QuarterTurns): { across: number; ahead: number } {
  const angle = ((facingDegrees + 90 * turns) * Math.PI) / 180
  return { across: dx * Math.cos(angle) - dy * Math.sin(angle), ahead: dx * Math.sin(angle) + dy * Math.cos(angle) }
}

/** The compass word for the way the technician faces, to the nearest eighth: its index from north, clockwise. */
export function facingEighth(northDegrees: number, facingDegrees: number, turns: QuarterTurns): number {
  const fromNorth = (360 - northOnScreenDegrees(northDegrees, facingDegrees, turns)) % 360
  return Math.round(fromNorth / 45) % 8
}

export type Direction = 'ahead' | 'behind' | 'left' | 'right'

/** The point next to `from` on the screen in a direction, or null at the edge. Gaps in the face are stepped over. */
export function neighbour<P extends FacePlace>(points: readonly P[], from: FacePlace, direction: Direction, turns: QuarterTurns): P | null {
  const size = sizeOf(points)
  const here = turnPlace(from, size, turns)
  let best: P | null = null
  let bestDistance = Number.POSITIVE_INFINITY
  for (const point of points) {
    const there = turnPlace(point, size, turns)
    const along = distanceTowards(here, there, direction)
    if (along === null || along >= bestDistance) continue
    best = point
    bestDistance = along
  }
  return best
}

function distanceTowards(here: FacePlace, there: FacePlace, direction: Direction): number | null {
  const distance =
    direction === 'ahead'
      ? here.row - there.row
      : direction === 'behind'
        ? there.row - here.row
        : direction === 'left'
          ? here.column - there.column
          : there.column - here.column
  const sideways = direction === 'ahead' || direction === 'behind' ? here.column !== there.column : here.row !== there.row
  return sideways || distance <= 0 ? null : distance
}

/** Points in the order a person reads them on the screen: row by row, left to right. */
export function inRowOrder<P extends FacePlace>(points: readonly P[], turns: QuarterTurns): P[] {
  const size = sizeOf(points)
  return points
    .map((point) => ({ point, at: turnPlace(point, size, turns) }))
    .sort((a, b) => a.at.row - b.at.row || a.at.column - b.at.column)
    .map(({ point }) => point)
}
