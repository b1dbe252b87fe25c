import { useCallback, useEffect, useRef } from 'react'
import type { EntityChange } from '#core/api/entities.ts'
import type { CommandName } from '#core/model/audit.ts'
import type { Entity } from '#core/model/entities.ts'
import { shift } from '../plan/alignment.ts'
import { placedTerminal } from './editor-actions.ts'
import { NO_PREVIEW, type Preview } from './preview.ts'
import { movedTerminals } from './room-changes.ts'

const REST_MS = 450

/**
 * Arrow keys in a row are one gesture: the filters follow each press at once, and one command is sent when the keys rest, when another
 * key is pressed, or when the plan is left.
 */
export function useNudging(
  terminals: readonly Entity<'terminal'>[],
  show: (preview: Preview) => void,
  change: (name: CommandName, changes: readonly EntityChange[]) => void,
): { nudge: (dx: number, dy: number) => void; settle: () => void } {
  const byRef = useRef({ dx: 0, dy: 0 })
  const timerRef = useRef<ReturnType<typeof setTimeout> | undefined>(undefined)
  const latest = useRef({ terminals, show, change })
  latest.current = { terminals, show, change }

  const settle = useCallback(() => {
    clearTimeout(timerRef.current)
    const { dx, dy } = byRef.current
    if (dx === 0 && dy === 0) return
    byRef.current = { dx: 0, dy: 0 }
    const { terminals: moved, show: shown, change: send } = latest.current
    send('move', movedTerminals(moved, shift(moved.map(placedTerminal), dx, dy)))
    shown(NO_PREVIEW)
  }, [])

  const nudge = useCallback(
    (dx: number, dy: number) => {
      byRef.current = { dx: byRef.current.dx + dx, dy: byRef.current.dy + dy }
      const { terminals: moved, show: shown } = latest.current
      shown({ kind: 'moving', moves: shift(moved.map(placedTerminal), byRef.current.dx, byRef.current.dy), guides: [] })
      clearTimeout(timerRef.current)
      timerRef.current = setTimeout(settle, REST_MS)
    },
    [settle],
  )

  useEffect(() => settle, [settle])
  return { nudge, settle }
}
