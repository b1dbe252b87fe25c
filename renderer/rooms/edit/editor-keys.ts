import { type Direction, directionOf } from '../plan/reading-order.ts'

/** Forms that the keyboard opens beside the plan. */
export type EditorTask = 'array' | 'copy' | 'tags'

export type EditorKey =
  | { readonly do: 'nudge'; readonly dx: number; readonly dy: number }
  | { readonly do: 'go'; readonly direction: Direction; readonly extend: boolean }
  | { readonly do: 'open'; readonly task: EditorTask }
  | { readonly do: 'all' | 'row' | 'remove' | 'duplicate' | 'escape' | 'place' | 'properties' | 'table' }

export type KeyState = {
  readonly key: string
  readonly shiftKey: boolean
  readonly ctrlKey: boolean
  readonly metaKey: boolean
  readonly altKey: boolean
}

/** One centimetre and ten; one inch (0.0254 m) and six where lengths are shown in feet. */
const STEPS_M = { m: { fine: 0.01, coarse: 0.1 }, ft: { fine: 0.0254, coarse: 0.1524 } } as const

/**
 * What a key means on the plan under edit. Arrows nudge what is selected by a fine step, with Shift by a coarse one; with Alt they go to the next
 * filter in that direction, with Alt and Shift they take it into the selection. With nothing selected arrows go, too. Null leaves the key
 * to the canvas and the window.
 */
export function editorKey(press: KeyState, selected: number, lengthUnit: keyof typeof STEPS_M): EditorKey | null {
  const { fine, coarse } = STEPS_M[lengthUnit]
  const direction = directionOf(press.key)
  const control = press.ctrlKey || press.metaKey
  if (direction && !control) {
    if (press.altKey || selected === 0) return { do: 'go', direction, extend: press.altKey && press.shiftKey }
    return { do: 'nudge', ...stepTo(direction, press.shiftKey ? coarse : fine) }
  }
  const letter = press.key.length === 1 ? press.key.toLowerCase() : press.key
  if (press.altKey) return null
  if (control) {
    if (letter === 'a') return { do: 'all' }
    if (letter === 'd') return { do: 'duplicate' }
    return null
  }
  switch (letter) {
    case 'a':
      return { do: 'open', task: 'array' }
    case 'c':
      return { do: 'open', task: 'copy' }
    case 't':
      return { do: 'open', task: 'tags' }
    case 'n':
      return { do: 'place' }
    case 'r':
      return { do: 'row' }
    case 'l':
      return { do: 'table' }
    case 'Enter':
      return { do: 'properties' }
    case 'Delete':
    case 'Backspace':
      return { do: 'remove' }
    case 'Escape':
      return { do: 'escape' }
    default:
      return null
  }
}

function stepTo(direction: Direction, step: number): { dx: number; dy: number } {
  switch (direction) {
    case 'left':
      return { dx: -step, dy: 0 }
    case 'right':
      return { dx: step, dy: 0 }
    case 'up':
      return { dx: 0, dy: step }
    case 'down':
      return { dx: 0, dy: -step }
  }
}
