import type { Uuid } from '#core/model/values.ts'
import type { AirDirection } from './balance.ts'

/** A terminal on the ductwork of a fan. Flows in m3/s on one basis, positive in the terminal's own direction. */
export type SystemTerminal = {
  readonly terminalId: Uuid
  /** null: on no air system (a recirculating fan filter unit) */
  readonly airSystemId: string | null
  readonly direction: AirDirection
  readonly flowM3ps: number | null
}

/** What the fan of an air system should move, m3/s on the same basis; null where engineering gave no figure. */
export type SystemDesign = {
  readonly airSystemId: string
  readonly direction: AirDirection
  readonly designFlowM3ps: number | null
}

export type SystemFlow = {
  readonly airSystemId: string
  readonly direction: AirDirection
  /** sum over its terminals; null while one is missing */
  readonly flowM3ps: number | null
  readonly soFarM3ps: number
  readonly terminals: number
  readonly missingTerminalIds: readonly Uuid[]
  readonly designFlowM3ps: number | null
  /** null without a design above zero or without a flow */
  readonly percentOfDesign: number | null
}

/**
 * Flow of each air system and direction: the sum over its terminals, against the fan's design. The fan moves more than its terminals give
 * where ducts leak, so a sum under the design may be leakage. Systems in the order of `designs`, then those that only terminals name. Source:
 * conservation of mass; percent of design = 100 x measured / design on the same basis.
 */
export function airSystemFlows(terminals: readonly SystemTerminal[], designs: readonly SystemDesign[]): SystemFlow[] {
  const keyOf = (airSystemId: string, direction: AirDirection) => `${direction} ${airSystemId}`
  const groups = new Map<string, { design: SystemDesign; members: SystemTerminal[] }>(
    designs.map((design) => [keyOf(design.airSystemId, design.direction), { design, members: [] }]),
  )
  for (const terminal of terminals) {
    const { airSystemId, direction } = terminal
    if (airSystemId === null) continue
    const key = keyOf(airSystemId, direction)
    const group = groups.get(key) ?? { design: { airSystemId, direction, designFlowM3ps: null }, members: [] }
    group.members.push(terminal)
    groups.set(key, group)
  }
  return [...groups.values()].map(({ design, members }) => {
    const missingTerminalIds = members.filter(({ flowM3ps }) => flowM3ps === null).map(({ terminalId }) => terminalId)
    const soFarM3ps = members.reduce((sum, { flowM3ps }) => sum + (flowM3ps ?? 0), 0)
    const flowM3ps = missingTerminalIds.length > 0 || members.length === 0 ? null : soFarM3ps
    const { designFlowM3ps } = design
    const percentOfDesign = flowM3ps === null || designFlowM3ps === null || !(designFlowM3ps > 0) ? null : (100 * flowM3ps) / designFlowM3ps
    return { ...design, flowM3ps, soFarM3ps, terminals: members.length, missingTerminalIds, percentOfDesign }
  })
}
