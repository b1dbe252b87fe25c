import { useEffect, useRef } from 'react'
import { desktopBridge } from './desktop-bridge.ts'

export type ShellCommands = {
  readonly find: () => void
  readonly help: () => void
  readonly person: () => void
  readonly undo: () => void
  readonly redo: () => void
  readonly where: () => void
  readonly what: () => void
  readonly why: () => void
}

export type KeyPress = Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'shiftKey' | 'altKey'>

/**
 * Which command a key press means. `typing` says that the focus is in a text that is not empty: there, undo belongs to the text, and
 * a slash is a slash.
 */
export function commandOfKey(press: KeyPress, typing: 'no' | 'empty' | 'text'): keyof ShellCommands | null {
  const key = press.key.length === 1 ? press.key.toLowerCase() : press.key
  const control = press.ctrlKey || press.metaKey
  if (control && !press.altKey) {
    if (key === 'k') return 'find'
    if (typing === 'text') return null
    if (key === 'z') return press.shiftKey ? 'redo' : 'undo'
    if (key === 'y') return 'redo'
    return null
  }
  if (press.altKey) return null
  if (key === '/' && typing === 'no') return 'find'
  if (key === '?' && typing === 'no') return 'help'
  if (key === 'F1') return 'help'
  if (key === 'F6') return press.shiftKey ? 'where' : 'what'
  if (key === 'F7') return 'where'
  if (key === 'F8') return 'why'
  return null
}

function typingIn(target: EventTarget | null): 'no' | 'empty' | 'text' {
  if (target instanceof HTMLTextAreaElement) return target.value === '' ? 'empty' : 'text'
  if (target instanceof HTMLInputElement && !['checkbox', 'radio', 'button', 'range'].includes(target.type)) {
    return target.value === '' ? 'empty' : 'text'
  }
  return target instanceof HTMLElement && target.isContentEditable ? 'text' : 'no'
}

/** Keys that work everywhere in the window, and those entries of the desktop's menu. A screen that takes a key for itself prevents its default. */
export function useShellKeys(commands: ShellCommands, active: boolean): void {
  const latest = useRef(commands)
  useEffect(() => {
    latest.current = commands
  })
  useEffect(() => {
    if (!active) return
    const pressed = (event: KeyboardEvent) => {
      if (event.defaultPrevented) return
      const command = commandOfKey(event, typingIn(event.target))
      if (!command) return
      event.preventDefault()
      latest.current[command]()
    }
    window.addEventListener('keydown', pressed)
    const forget = desktopBridge()?.onMenuCommand((command) => {
      if (command === 'undo' || command === 'redo' || command === 'find' || command === 'help') latest.current[command]()
    })
    return () => {
      window.removeEventListener('keydown', pressed)
      forget?.()
    }
  }, [active])
}
