import type { EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import { entered, round } from './entered.ts'
import type { Grille, RoomSource } from './source.ts'

/** The way a person faces who looks at a wall from the room, degrees clockwise from plan-up. */
const FACING = { north: 0, east: 90, south: 180, west: 270 } as const

/** The body of a return or exhaust grille in a wall, with the duct or orifice behind it where it is measured there. */
export function grilleBody(room: RoomSource, grille: Grille, tag: string): EntityBody<'terminal'> {
  const [left, lower] = room.origin
  const outline = room.outline ?? []
  const [width, depth] = room.size ?? [Math.max(...outline.map(([x]) => x)), Math.max(...outline.map(([, y]) => y))]
  const inset = 0.03
  const place = {
    west: { x: inset, y: grille.at },
    east: { x: width - inset, y: grille.at },
    south: { x: grille.at, y: inset },
    north: { x: grille.at, y: depth - inset },
  }[grille.wall]
  const [across, height] = grille.size
  return {
    tag,
    kind: grille.kind,
    zoneId: null,
    x: round(left + place.x),
    y: round(lower + place.y),
    rotationDegrees: FACING[grille.wall],
    mounting: 'wall',
    grossWidth: entered(across, 'm'),
    grossDepth: entered(height, 'm'),
    effectiveArea: entered(String(round(0.7 * Number(across) * Number(height))), 'm2'),
    face: 'grille',
    airSource: 'air_handler',
    designVelocity: null,
    designFlow: entered(grille.flow, 'm3/h'),
    correctionFactor: null,
    grid: null,
    closed: null,
    ...LATER_FIELDS.terminal,
    ...behind(grille),
    note: '',
  }
}

function behind({ kind, duct, orifice }: Grille): Partial<EntityBody<'terminal'>> {
  if (orifice) {
    const { coefficient, bore, duct: diameter } = orifice
    return {
      measuredBy: 'flow_element',
      flowElement: {
        kind: 'discharge',
        coefficient,
        boreDiameter: entered(bore, 'mm'),
        ductDiameter: entered(diameter, 'mm'),
        expansibility: 1,
        uncertaintyPercent: null,
      },
    }
  }
  if (!duct) return {}
  return {
    measuredBy: 'duct_traverse',
    duct: {
      section: { shape: 'rectangle', width: entered(duct.width, 'mm'), height: entered(duct.height, 'mm') },
      rule: 'log_tchebycheff',
      lines: null,
      pointsPerLine: null,
      measures: 'velocity_pressure',
      pitotCoefficient: 1,
      direction: kind === 'exhaust_grille' ? 'exhaust' : 'return',
      countsInRoom: false,
      straightBefore: entered(duct.straightBefore, 'm'),
      straightAfter: entered(duct.straightAfter, 'm'),
      cyclonic: false,
    },
  }
}
