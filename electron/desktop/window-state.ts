import { mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { z } from 'zod'

const WindowState = z.strictObject({
  x: z.number().int().optional(),
  y: z.number().int().optional(),
  width: z.number().int().min(640),
  height: z.number().int().min(480),
  maximized: z.boolean(),
})
export type WindowState = z.infer<typeof WindowState>

type Area = { readonly x: number; readonly y: number; readonly width: number; readonly height: number }

const FIRST: WindowState = { width: 1440, height: 900, maximized: false }

/** The last window state, or a sound first one when there is none, it is damaged, or its screen is gone. */
export function readWindowState(folder: string, screens: readonly Area[]): WindowState {
  try {
    const state = WindowState.parse(JSON.parse(readFileSync(stateFile(folder), 'utf8')))
    if (state.x === undefined || state.y === undefined) return state
    const { x, y } = state
    const visible = screens.some(
      (screen) => x < screen.x + screen.width - 80 && x + state.width > screen.x + 80 && y >= screen.y && y < screen.y + screen.height - 40,
    )
    return visible ? state : { width: state.width, height: state.height, maximized: state.maximized }
  } catch {
    return FIRST
  }
}

export function writeWindowState(folder: string, state: WindowState): void {
  mkdirSync(folder, { recursive: true })
  const temporary = `${stateFile(folder)}.new`
  writeFileSync(temporary, JSON.stringify(state))
  renameSync(temporary, stateFile(folder))
}

function stateFile(folder: string): string {
  return path.join(folder, 'window.json')
}
