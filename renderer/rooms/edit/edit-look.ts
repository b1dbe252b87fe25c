import { useMemo, useRef } from 'react'
import type { Entity } from '#core/model/entities.ts'
import { terminalCorners } from '#core/rooms/geometry.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { useFormatter, useSay } from '#renderer/app/session.tsx'
import type { FaceLook } from '../map/face-look.ts'
import { kindMark } from '../map/kind-mark.ts'
import { pathOf } from '../map/svg-path.ts'
import { rowsOf } from '../plan/reading-order.ts'

/** Looks of terminals under edit: tag and size, no verdict. A terminal that did not change keeps its look, and is not drawn again. */
export function useEditLooks(terminals: readonly Entity<'terminal'>[]): readonly FaceLook[] {
  const t = useSay()
  const formatter = useFormatter()
  const known = useRef(new WeakMap<Entity<'terminal'>, { look: FaceLook; formatter: Formatter }>())
  return useMemo(() => {
    const looks = terminals.map((terminal) => {
      const before = known.current.get(terminal)
      if (before?.formatter === formatter) return before.look
      const size = `${formatter.number(terminal.body.grossWidth.si, 'length')} × ${formatter.number(terminal.body.grossDepth.si, 'length')}`
      const look = editLook(terminal, size, t('map.edit.face_name', { tag: terminal.body.tag, size, of: { kind: terminal.body.kind } }))
      known.current.set(terminal, { look, formatter })
      return look
    })
    return rowsOf(looks).flat()
  }, [terminals, t, formatter])
}

function editLook({ id, body }: Entity<'terminal'>, size: string, name: string): FaceLook {
  const corners = terminalCorners(body)
  return {
    id,
    x: body.x,
    y: body.y,
    corners,
    node: {
      id,
      path: pathOf(corners),
      mark: kindMark(body.kind, corners),
      kind: body.kind,
      verdict: 'not_applicable',
      shade: null,
      closed: body.closed !== null,
      name,
    },
    flowText: '',
    text: { id, corners, tag: body.tag, lines: [body.tag, size], weight: 0, ink: null },
  }
}
