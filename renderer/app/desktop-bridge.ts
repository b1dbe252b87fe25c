import type { DesktopBridge } from '#core/api/desktop-bridge.ts'

declare global {
  interface Window {
    readonly facegridDesktop?: DesktopBridge
  }
}

/** What the desktop host offers beyond the contract; null in a browser. */
export function desktopBridge(): DesktopBridge | null {
  return window.facegridDesktop ?? null
}
