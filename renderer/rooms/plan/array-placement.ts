import type { PlanPoint } from '#core/model/values.ts'
import type { Bounds } from './view-transform.ts'

/** A row or grid of equal places. Row 1 is farthest ahead (plan-up), columns run to the right. */
export type ArrayForm = {
  readonly rows: number
  readonly columns: number
  /** m between the centres of neighbours in a row; negative runs to the left */
  readonly columnPitchM: number
  /** m between the centres of neighbouring rows; negative runs up the plan */
  readonly rowPitchM: number
  /** centre of the first place: row 1, column 1 */
  readonly first: PlanPoint
}

export type ArrayPlace = PlanPoint & { readonly row: number; readonly column: number }

/** Centres of the array, row by row from the far left. Counts below 1 give none. */
export function arrayPlaces(form: ArrayForm): ArrayPlace[] {
  const places: ArrayPlace[] = []
  for (let row = 1; row <= form.rows; row += 1)
    for (let column = 1; column <= form.columns; column += 1)
      places.push({
        row,
        column,
        x: tidy(form.first.x + (column - 1) * form.columnPitchM),
        y: tidy(form.first.y - (row - 1) * form.rowPitchM),
      })
  return places
}

/** Offsets of the copies of an array, without the original itself: what "copy in a row or grid" adds to each centre. */
export function copyOffsets(form: Omit<ArrayForm, 'first'>): PlanPoint[] {
  return arrayPlaces({ ...form, first: { x: 0, y: 0 } })
    .filter((place) => place.row > 1 || place.column > 1)
    .map(({ x, y }) => ({ x, y }))
}

/** An array of `rows` x `columns` places spread over the box, each in the middle of an equal cell. */
export function spreadOver(bounds: Bounds, rows: number, columns: number): ArrayForm {
  const columnPitchM = (bounds.right - bounds.left) / columns
  const rowPitchM = (bounds.top - bounds.bottom) / rows
  return {
    rows,
    columns,
    columnPitchM: tidy(columnPitchM),
    rowPitchM: tidy(rowPitchM),
    first: { x: tidy(bounds.left + columnPitchM / 2), y: tidy(bounds.top - rowPitchM / 2) },
  }
}

/** Rounds to a tenth of a millimetre, so that sums of decimal steps stay the figures that were typed. */
export function tidy(metres: number): number {
  const rounded = Math.round(metres * 1e4) / 1e4
  return rounded === 0 ? 0 : rounded
}
