import type { SystemInBalance, SystemsBalance } from '#core/api/balance.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { FilterResult } from '#core/model/results.ts'
import type { AirDirection } from '#core/model/terminals.ts'
import type { Basis, Uuid } from '#core/model/values.ts'
import { airSystemFlows, type SystemDesign, type SystemTerminal } from './air-systems.ts'
import { directionOf } from './balance.ts'

export type SystemOfSite = { readonly airSystemId: Uuid; readonly facilityId: Uuid; readonly system: EntityBody<'air_system'> }
/** A terminal on an air system, with what the current run of its room says of it; null where none measured it. */
export type TerminalOfSystem = {
  readonly terminalId: Uuid
  readonly roomId: Uuid
  readonly terminal: EntityBody<'terminal'>
  readonly result: Pick<FilterResult, 'flowM3ps' | 'byBasis' | 'basis'> | null
  /** that its standard flow speaks of, kg/m3; null where its run has no common one */
  readonly standardKgpm3: number | null
}

const DIRECTIONS: readonly AirDirection[] = ['supply', 'return', 'exhaust']

function directionIn({ kind, duct }: EntityBody<'terminal'>): AirDirection {
  return directionOf(kind) ?? duct?.direction ?? 'supply'
}

function designOf(system: EntityBody<'air_system'>, direction: AirDirection): number | null {
  const design = { supply: system.designSupply, return: system.designReturn, exhaust: system.designExhaust }[direction]
  return design?.si ?? null
}

function flowOn({ result, terminal }: TerminalOfSystem, basis: Basis): number | null {
  if (!result) return terminal.closed ? 0 : null
  if (!result.byBasis) return result.flowM3ps
  return result.byBasis[basis]?.flowM3ps ?? null
}

/** Actual air where every measured terminal knows it, else standard air of one density, else what the instruments showed. */
function commonBasis(terminals: readonly TerminalOfSystem[]): Basis {
  const measured = terminals.filter(
    ({ result, terminal }) => result !== null && result.flowM3ps !== null && !(terminal.closed && result.flowM3ps === 0),
  )
  const known = (basis: Basis) => measured.every((one) => one.result?.byBasis != null && flowOn(one, basis) !== null)
  if (measured.length === 0) return 'as_indicated'
  if (known('actual')) return 'actual'
  const first = measured[0]?.standardKgpm3 ?? null
  const isOneAir = first !== null && measured.every((one) => Math.abs((one.standardKgpm3 ?? 0) - first) <= 1e-9 * first)
  return isOneAir && known('standard') ? 'standard' : 'as_indicated'
}

/**
 * A duct section that counts in its room stands for the room's terminals of the system in its direction: the same air must not count twice. One
 * that names no system is in no system's sum, and so stands for no terminal of one here.
 */
function standsFor(terminals: readonly TerminalOfSystem[]): (one: TerminalOfSystem) => boolean {
  const key = (one: TerminalOfSystem) => `${one.roomId} ${one.terminal.airSystemId} ${directionIn(one.terminal)}`
  const ducts = new Set(terminals.filter(({ terminal }) => terminal.kind === 'duct_section' && terminal.duct?.countsInRoom).map(key))
  return (one) => {
    if (one.terminal.kind === 'duct_section') return one.terminal.duct?.countsInRoom === true
    return !ducts.has(key(one))
  }
}

/**
 * Flow of each air system and direction against the design of its fan: see {@link airSystemFlows}. All flows on one basis, and the designs read
 * on it. Ducts of a system that count in no room (such as the one behind the fan) are told apart: what they carry more than the
 * terminals give is leakage of the ductwork, or error. Directions without a design and without a terminal are left out.
 */
export function systemsOfSite(
  scope: { readonly certificationId: Uuid; readonly facilityId: Uuid | null },
  systems: readonly SystemOfSite[],
  terminals: readonly TerminalOfSystem[],
): SystemsBalance {
  const basis = commonBasis(terminals)
  const counts = standsFor(terminals)
  const designs = systems.flatMap(({ airSystemId, system }) =>
    DIRECTIONS.map((direction): SystemDesign => ({ airSystemId, direction, designFlowM3ps: designOf(system, direction) })),
  )
  const counted = terminals.filter(counts).map(
    (one): SystemTerminal => ({
      terminalId: one.terminalId,
      airSystemId: one.terminal.airSystemId,
      direction: directionIn(one.terminal),
      flowM3ps: flowOn(one, basis),
    }),
  )
  const apart = terminals.filter(({ terminal }) => terminal.kind === 'duct_section' && !terminal.duct?.countsInRoom)
  const tags = new Map(terminals.map(({ terminalId, terminal }) => [terminalId, terminal.tag]))
  const known = new Map(systems.map((one) => [one.airSystemId as string, one]))
  const rows = airSystemFlows(counted, designs).flatMap((flow): SystemInBalance[] => {
    const system = known.get(flow.airSystemId)
    const ducts = apart.filter(({ terminal }) => terminal.airSystemId === flow.airSystemId && directionIn(terminal) === flow.direction)
    if (!system || (flow.designFlowM3ps === null && flow.terminals === 0 && ducts.length === 0)) return []
    const { airSystemId, facilityId } = system
    const { direction, flowM3ps, soFarM3ps, designFlowM3ps, percentOfDesign } = flow
    const missing = flow.missingTerminalIds.map((id) => tags.get(id) ?? '')
    const inDuctM3ps = sumOrNone(ducts.map((one) => flowOn(one, basis)))
    const name = system.system.name
    return [
      {
        airSystemId,
        name,
        facilityId,
        direction,
        flowM3ps,
        soFarM3ps,
        terminals: flow.terminals,
        missing,
        inDuctM3ps,
        designFlowM3ps,
        percentOfDesign,
      },
    ]
  })
  return { ...scope, basis, systems: rows }
}

function sumOrNone(flows: readonly (number | null)[]): number | null {
  let sum = 0
  for (const flow of flows) {
    if (flow === null) return null
    sum += flow
  }
  return flows.length === 0 ? null : sum
}
