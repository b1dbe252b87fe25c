import { useEffect, useRef } from 'react'
import type { Direction } from './face-view.ts'
import { eventOfKey, type TypingEvent } from './typing.ts'

export type BenchCommands = {
  readonly type: (event: TypingEvent) => void
  readonly hasDraft: () => boolean
  readonly move: (direction: Direction) => void
  readonly filter: (step: 1 | -1) => void
  readonly edge: (edge: 'first' | 'last') => void
  readonly undo: () => void
  readonly redo: () => void
  readonly paste: (text: string) => void
}

const ARROWS: Readonly<Record<string, Direction>> = { ArrowUp: 'ahead', ArrowDown: 'behind', ArrowLeft: 'left', ArrowRight: 'right' }

/** True where keys belong to someone else: a text that is being written, an open list, menu or dialog. */
export function belongsElsewhere(target: EventTarget | null): boolean {
  if (!(target instanceof Element)) return false
  if (target instanceof HTMLInputElement && ['radio', 'checkbox', 'button'].includes(target.type)) return false
  return target.closest('input, textarea, select, [contenteditable="true"], [role="dialog"], [role="menu"], [role="listbox"]') !== null
}

/**
 * Keys of the bench, wherever the focus is: digits and Enter go to the current point without a click. On a focused button Enter still
 * presses it, unless a number was begun: then Enter ends the number.
 */
export function useBenchKeys(commands: BenchCommands, active: boolean): void {
  const latest = useRef(commands)
  latest.current = commands
  useEffect(() => {
    if (!active) return
    const pressed = (event: KeyboardEvent) => {
      if (event.defaultPrevented || event.isComposing || belongsElsewhere(event.target)) return
      if (actOn(event, latest.current)) {
        event.preventDefault()
        event.stopPropagation()
      }
    }
    const pasted = (event: ClipboardEvent) => {
      if (belongsElsewhere(event.target)) return
      const text = event.clipboardData?.getData('text/plain') ?? ''
      if (text.trim() === '') return
      event.preventDefault()
      latest.current.paste(text)
    }
    window.addEventListener('keydown', pressed, { capture: true })
    window.addEventListener('paste', pasted)
    return () => {
      window.removeEventListener('keydown', pressed, { capture: true })
      window.removeEventListener('paste', pasted)
    }
  }, [active])
}

function actOn(event: KeyboardEvent, commands: BenchCommands): boolean {
  const key = event.key.length === 1 ? event.key.toLowerCase() : event.key
  if ((event.ctrlKey || event.metaKey) && !event.altKey) {
    if (key === 'z') (event.shiftKey ? commands.redo : commands.undo)()
    else if (key === 'y') commands.redo()
    else return false
    return true
  }
  if (event.altKey || event.ctrlKey || event.metaKey) return false
  const onControl = event.target instanceof Element && event.target.closest('button:not([data-point]), a, input') !== null
  const direction = ARROWS[event.key]
  if (direction && !onControl) commands.move(direction)
  else if (event.key === 'PageDown') commands.filter(1)
  else if (event.key === 'PageUp') commands.filter(-1)
  else if ((event.key === 'Home' || event.key === 'End') && !onControl) commands.edge(event.key === 'Home' ? 'first' : 'last')
  else {
    const typing = eventOfKey(event.key)
    if (!typing || (typing.kind === 'enter' && onControl && !commands.hasDraft())) return false
    // A held Enter must not run through the points.
    if (!(typing.kind === 'enter' && event.repeat)) commands.type(typing)
  }
  return true
}
