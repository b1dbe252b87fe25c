import { wayOf } from '#core/methods/airflow/ways.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Location } from '#core/model/readings.ts'
import type { Quantity, Unit } from '#core/model/values.ts'
import type { Air } from './air.ts'
import { type Display, dynamicPressurePa, type RoomAir, shown } from './displays.ts'
import type { PlacedTerminal } from './place.ts'

/** The instruments of a visit, one for each quantity. */
export type Kit = { readonly velocity: Display; readonly flow: Display; readonly pressure: Display }

/** One thing that is measured in one go: a terminal by its way, or the plane of a zone. */
export type Task = {
  readonly tag: string
  readonly display: Display
  readonly unit: Unit
  readonly points: readonly { readonly number: number; readonly read: () => string }[]
}

type Setting = { readonly air: Air; readonly roomAir: RoomAir; readonly kit: Kit; readonly unit: Unit; readonly day: () => string }

/** How the velocity in a rectangular duct lies over its section, 1 on average: the seventh-root law to either wall. */
function profile(offsetXM: number, offsetYM: number, widthM: number, heightM: number): number {
  const to = (offsetM: number, sideM: number) => (8 / 7) * (1 - Math.abs(2 * offsetM) / sideM) ** (1 / 7)
  return to(offsetXM, widthM) * to(offsetYM, heightM)
}

function orificeVelocityMps(flowM3ps: number, element: NonNullable<EntityBody<'terminal'>['flowElement']>): number {
  if (element.kind !== 'discharge') throw new Error('The demo has orifices alone.')
  const { coefficient, boreDiameter, ductDiameter } = element
  const beta = boreDiameter.si / ductDiameter.si
  return (flowM3ps * Math.sqrt(1 - beta ** 4)) / (coefficient * (Math.PI / 4) * boreDiameter.si ** 2)
}

/** What the technician will read at each point of a terminal, and with what. */
export function taskAt(placed: PlacedTerminal, body: EntityBody<'terminal'>, locations: readonly Location[], setting: Setting): Task {
  const { air, roomAir, kit, unit, day } = setting
  const flowM3ps = () => air.meanMps(placed.tag, day()) * placed.areaM2
  const unrest = () => 1 + 0.006 * air.scatter()
  const task = (display: Display, quantity: Quantity, as: Unit, si: (location: Location, index: number) => number): Task => ({
    tag: placed.tag,
    display,
    unit: as,
    points: locations.map((location, index) => ({
      number: location.number,
      read: () => shown(si(location, index), as, display.body, quantity),
    })),
  })
  switch (wayOf(body)) {
    case 'hood':
      return task(kit.flow, 'flow', 'm3/h', () => kit.flow.showsFlow(flowM3ps() * unrest(), body.face, roomAir))
    case 'flow_element': {
      const { flowElement } = body
      if (!flowElement) throw new Error(`${placed.tag} has no flow element.`)
      return task(kit.pressure, 'pressure_difference', 'Pa', () =>
        dynamicPressurePa(orificeVelocityMps(flowM3ps() * unrest(), flowElement), roomAir),
      )
    }
    case 'duct_traverse': {
      const section = body.duct?.section
      if (section?.shape !== 'rectangle') throw new Error(`${placed.tag} has no rectangular duct.`)
      const [widthM, heightM] = [section.width.si, section.height.si]
      return task(kit.pressure, 'velocity_pressure', 'Pa', ({ offsetXM, offsetYM }) => {
        const meanMps = flowM3ps() / (widthM * heightM)
        return dynamicPressurePa(meanMps * profile(offsetXM, offsetYM, widthM, heightM) * unrest(), roomAir)
      })
    }
    default:
      return task(kit.velocity, 'velocity', unit, ({ offsetXM }, index) => {
        const velocity = air.velocityMps(placed.tag, { index, sideways: (2 * offsetXM) / placed.widthM }, day())
        return kit.velocity.showsVelocity(velocity, roomAir, day())
      })
  }
}

/** How far one filter's air still tells at working height, m. */
const MIXING_M = 0.45

/** What the technician will read over the plane of a zone: the air of the filters above, slowed and mixed. */
export function planeTask(
  over: readonly PlacedTerminal[],
  centre: { readonly x: number; readonly y: number },
  locations: readonly Location[],
  shareOfFace: number,
  setting: Setting,
): Task {
  const { air, roomAir, kit, unit, day } = setting
  const velocityAt = ({ offsetXM, offsetYM }: Location): number => {
    let sum = 0
    let weights = 0
    for (const { tag, x, y } of over) {
      const weight = Math.exp(-((centre.x + offsetXM - x) ** 2 + (centre.y + offsetYM - y) ** 2) / (2 * MIXING_M ** 2))
      sum += weight * air.meanMps(tag, day())
      weights += weight
    }
    return (sum / weights) * shareOfFace * (1 + 0.05 * air.scatter())
  }
  return {
    tag: '',
    display: kit.velocity,
    unit,
    points: locations.map((location) => ({
      number: location.number,
      read: () => shown(kit.velocity.showsVelocity(velocityAt(location), roomAir, day()), unit, kit.velocity.body, 'velocity'),
    })),
  }
}
