import type { EntityBody } from '#core/model/entities.ts'
import type { Location } from '#core/model/readings.ts'
import type { FlowWay } from '#core/model/terminals.ts'
import type { LayoutRequest, Pinned } from '../method.ts'
import { ductPoints } from './duct-layout.ts'
import { inPathOrder, layOutFaceGrid } from './layout.ts'
import { wayOf } from './ways.ts'

type Point = Omit<Location, 'number'>

function wholeTerminal(terminal: Pinned<'terminal'>): Point {
  const cellAreaM2 = terminal.body.effectiveArea.si
  return { kind: 'whole_terminal', terminalId: terminal.id, row: 1, column: 1, offsetXM: 0, offsetYM: 0, cellAreaM2 }
}

function pointsOf(terminal: Pinned<'terminal'>, request: LayoutRequest): Point[] {
  switch (wayOf(terminal.body)) {
    case 'face_grid':
      return layOutFaceGrid({ ...request, terminals: [terminal] }).map(({ number: _own, ...point }) => point)
    case 'hood':
    case 'flow_element':
      return [wholeTerminal(terminal)]
    case 'duct_traverse':
      return terminal.body.duct ? ductPoints(terminal.id, terminal.body.duct) : []
    case null:
      return []
  }
}

/**
 * Points of a run over every terminal of a room, numbered from 1 in the order they are walked: terminal by terminal by tag. A face grid as
 * {@link layOutFaceGrid}; a hood or flow element has one point for the whole terminal; a duct the points of its traverse. A closed
 * terminal and a duct section without a way have none.
 */
export function layOutRoom(request: LayoutRequest): Location[] {
  const open = inPathOrder(request.terminals.filter((terminal) => terminal.body.closed === null))
  return open.flatMap((terminal) => pointsOf(terminal, request)).map((point, index) => ({ number: index + 1, ...point }))
}

type Terminal = EntityBody<'terminal'>

/** What of a duct decides where its points lie and what is read there. */
function traverseOf({ duct }: Terminal): string {
  if (!duct) return ''
  const { section, rule, lines, pointsPerLine, measures } = duct
  const size = section.shape === 'round' ? [section.diameter.si] : [section.width.si, section.height.si]
  return [section.shape, ...size, rule, lines, pointsPerLine, measures].join(' ')
}

/** Whether a terminal that was changed has to be measured at other points than before: by another way, or in a duct of another size or rule. */
export function needsOtherPoints(wayAt: (terminal: Terminal) => FlowWay | null, before: Terminal, after: Terminal): boolean {
  const way = wayAt(after)
  return wayAt(before) !== way || (way === 'duct_traverse' && traverseOf(before) !== traverseOf(after))
}
