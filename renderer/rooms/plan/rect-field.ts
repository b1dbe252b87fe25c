import { overlaps, type Rect } from './rect.ts'

/** Far more columns than a window has; were two cells ever to share a number, they would only be looked through together. */
const ROW_STEP = 65_536

/** Rectangles of a window, found again by where they lie: asking looks at near ones alone, however many there are. */
export class RectField {
  readonly #cellPx: number
  readonly #cells = new Map<number, Rect[]>()

  constructor(cellPx = 64) {
    this.#cellPx = cellPx
  }

  add(rect: Rect): void {
    for (const key of this.#keysOf(rect)) {
      const cell = this.#cells.get(key)
      if (cell) cell.push(rect)
      else this.#cells.set(key, [rect])
    }
  }

  /** Whether any rectangle of the field overlaps this one. */
  touches(rect: Rect): boolean {
    for (const key of this.#keysOf(rect)) if (this.#cells.get(key)?.some((other) => overlaps(other, rect))) return true
    return false
  }

  *#keysOf(rect: Rect): Generator<number> {
    const cell = (px: number) => Math.floor(px / this.#cellPx)
    for (let row = cell(rect.top); row <= cell(rect.top + rect.height); row += 1)
      for (let column = cell(rect.left); column <= cell(rect.left + rect.width); column += 1) yield row * ROW_STEP + column
  }
}
