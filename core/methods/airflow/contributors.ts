import type { AirDirection } from '#core/model/terminals.ts'
import { countsInRoom, standsFor } from '#core/rooms/stand-ins.ts'
import type { FilterFigures } from './filter-figures.ts'
import type { OnBases } from './on-bases.ts'

export type Measured = OnBases<FilterFigures>

function bodyOf({ as_indicated: { of } }: Measured) {
  return of.terminal.body
}

/**
 * What makes up a room's flow in one direction: its duct sections that count in the room, and every terminal that no such duct stands for. Without
 * such a duct the terminals count themselves, and ducts do not. Which duct stands for what: see {@link standsFor}.
 */
export function contributorsTo(direction: AirDirection, terminals: readonly Measured[]): Measured[] {
  const inDirection = terminals.filter((terminal) => terminal.as_indicated.direction === direction)
  const own = inDirection.filter((terminal) => bodyOf(terminal).kind !== 'duct_section')
  const ducts = inDirection.filter((terminal) => countsInRoom(bodyOf(terminal)))
  if (ducts.length === 0) return own
  return [...ducts, ...own.filter((terminal) => !ducts.some((duct) => standsFor(bodyOf(duct), bodyOf(terminal))))]
}

/** Tags of the ducts that a terminal's air counts by in the room's totals, apart where only a system that is not named lets them stand for it. */
export type StandIns = { readonly onSystem: readonly string[]; readonly systemNotNamed: readonly string[] }

const NO_STAND_INS: StandIns = { onSystem: [], systemNotNamed: [] }

/** The ducts that stand for each terminal; none where it counts itself. The ducts are sought once for all terminals. */
export function standInsAmong(terminals: readonly Measured[]): (terminal: Measured) => StandIns {
  const ducts = terminals.map(bodyOf).filter(countsInRoom)
  if (ducts.length === 0) return () => NO_STAND_INS
  return (terminal) => {
    const body = bodyOf(terminal)
    const standing = ducts.filter((duct) => standsFor(duct, body))
    const isSame = (duct: (typeof ducts)[number]) => duct.airSystemId === body.airSystemId
    return {
      onSystem: standing.filter(isSame).map(({ tag }) => tag),
      systemNotNamed: standing.filter((duct) => !isSame(duct)).map(({ tag }) => tag),
    }
  }
}
