import Papa from 'papaparse'
import type { Place } from './typing.ts'

/** The cells of a pasted block, row by row, with spaces around them taken off. Rows that are wholly empty at the end are dropped. */
export type Block = readonly (readonly string[])[]

export type PasteTarget = {
  readonly terminalId: string
  readonly columns: number
  /** the face's places in the order they are read on the screen, row by row */
  readonly places: readonly Place[]
}

export type LaidValue = { readonly terminalId: string; readonly place: Place; readonly text: string }
export type PasteLayout = {
  readonly values: readonly LaidValue[]
  /** values for which no point is left */
  readonly leftOver: number
  /** the block's rows are not as long as the rows of the first face */
  readonly otherShape: boolean
}

/**
 * Reads a block as a spreadsheet puts it on the clipboard. The cells are parted by tabs; where there is none, by semicolons, else by
 * spaces. A comma never parts cells, since half the world writes its decimals with it.
 */
export function readBlock(text: string): Block {
  const delimiter = text.includes('\t') ? '\t' : text.includes(';') ? ';' : ' '
  const source = delimiter === ' ' ? text.replace(/[ \u00a0]+/g, ' ').replace(/^ | $/gm, '') : text
  const { data } = Papa.parse<string[]>(source, { delimiter, skipEmptyLines: false })
  const rows = data.map((row) => row.map((cell) => cell.trim()))
  while (rows.length > 0 && rows.at(-1)?.every((cell) => cell === '')) rows.pop()
  return rows
}

/** True for a paste of more than one cell: a single number is typed into the current point instead. */
export function isBlock(block: Block): boolean {
  return block.length > 1 || (block[0]?.length ?? 0) > 1
}

/**
 * Lays the cells, row by row, onto the points of the first target in its row order, then onto those of the next one. An empty cell
 * leaves its point as it is.
 */
export function layBlock(block: Block, targets: readonly PasteTarget[]): PasteLayout {
  const slots = targets.flatMap((target) => target.places.map((place) => ({ terminalId: target.terminalId, place })))
  const cells = block.flat()
  const values = cells.flatMap((text, index) => {
    const slot = slots[index]
    return slot && text !== '' ? [{ ...slot, text }] : []
  })
  const columns = Math.max(0, ...block.map((row) => row.length))
  const first = targets[0]
  return {
    values,
    leftOver: cells.slice(slots.length).filter((cell) => cell !== '').length,
    otherShape: first !== undefined && columns > 1 && columns !== first.columns && columns !== first.places.length,
  }
}
