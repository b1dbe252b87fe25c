import type { RoomBalanceFigures } from '#core/model/results.ts'
import { type BalanceTerminal, crossesBoundary, type RoomBalance, roomBalance } from '#core/rooms/balance.ts'
import type { RunInput } from '../method.ts'
import { REFERENCE_DENSITY_KGPM3, type RunAir, sharedStandardDensityKgpm3 } from './air-of-run.ts'
import type { AreaFigures } from './area-figures.ts'
import { contributorsTo, type Measured } from './contributors.ts'
import type { NoBasis } from './instrument-conversion.ts'
import { areaOnBases, figuresOn, lackOn, type OnBases } from './on-bases.ts'

/** The air of a room in and out, on the bases that it can be had on. */
export type AirBalance = {
  /** the sums of what the instruments showed: no mass balance where they show different air */
  readonly asIndicated: RoomBalance
  /** of standard flow, that is mass; null with `lack` */
  readonly mass: RoomBalance | null
  readonly lack: NoBasis | null
  /** all terminals whose air crosses the boundary, for what is missing and whose readings are in doubt */
  readonly crossing: OnBases<AreaFigures>
  readonly contributors: readonly Measured[]
}

/** Standard flow of a terminal, m3/s at the reference density; 'unknown' where its mass cannot be told, null where it was not measured. */
function standardFlow(terminal: Measured, referenceKgpm3: number): number | null | NoBasis {
  const indicated = terminal.as_indicated
  const { air } = indicated.of
  if (indicated.flowM3ps === null || indicated.flowM3ps === 0) return indicated.flowM3ps
  const actual = figuresOn(terminal, 'actual')
  if (actual && actual.flowM3ps !== null && air.actualKgpm3 !== null) return (actual.flowM3ps * air.actualKgpm3) / referenceKgpm3
  const standard = figuresOn(terminal, 'standard')
  const densities = new Set(indicated.of.readings.map(({ use }) => use.conversion.standardKgpm3))
  const [own] = densities
  if (standard && standard.flowM3ps !== null && densities.size === 1 && own != null) return (standard.flowM3ps * own) / referenceKgpm3
  return lackOn(terminal, 'actual') ?? 'conditions'
}

function asTerminal({ as_indicated: { of, direction } }: Measured, standardFlowM3ps: number | null): BalanceTerminal {
  return { terminalId: of.terminal.id, direction, airSource: of.terminal.body.airSource, standardFlowM3ps }
}

/**
 * Balance of a room from everything measured in it: supply - return - exhaust, of standard flow at the density of the instruments' common
 * standard condition, else 1.2046 kg/m3 (dry, 20 degC, 101 325 Pa). A terminal's mass is known from its actual flow and the
 * conditions, or from its standard flow alone. Where one measured terminal's is not known there is no mass balance, and `lack` says why; the
 * sums as indicated are there always. Source: conservation of mass.
 */
export function airBalance(input: RunInput, terminals: readonly Measured[], air: RunAir, mayReadReverse: boolean): AirBalance {
  const contributors = (['supply', 'return', 'exhaust'] as const).flatMap((direction) => contributorsTo(direction, terminals))
  const referenceKgpm3 = sharedStandardDensityKgpm3(input) ?? REFERENCE_DENSITY_KGPM3
  const flows = contributors.map((terminal) => ({ terminal, flow: standardFlow(terminal, referenceKgpm3) }))
  let lack: NoBasis | null = null
  const known: BalanceTerminal[] = []
  for (const { terminal, flow } of flows) {
    if (typeof flow === 'string') lack ??= flow
    else known.push(asTerminal(terminal, flow))
  }
  const perRoomDensity = air.actualKgpm3 === null ? null : referenceKgpm3 / air.actualKgpm3
  return {
    asIndicated: roomBalance(
      contributors.map((terminal) => asTerminal(terminal, terminal.as_indicated.flowM3ps)),
      null,
    ),
    mass: lack === null ? roomBalance(known, perRoomDensity) : null,
    lack,
    crossing: areaOnBases(
      contributors.filter(({ as_indicated: { of, direction } }) => crossesBoundary(direction, of.terminal.body.airSource)),
      mayReadReverse,
    ),
    contributors,
  }
}

/** The balance as the result shows it: of mass, else as indicated and said so. */
export function balanceFigures({ mass, asIndicated }: AirBalance): RoomBalanceFigures {
  const { missingTerminalIds, ...figures } = mass ?? asIndicated
  return { ...figures, basis: mass ? 'standard' : 'as_indicated', missingTerminalIds: [...missingTerminalIds] }
}
