import type { EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import type { Entered, Unit } from '#core/model/values.ts'
import { outlineAreaM2 } from '#core/rooms/geometry.ts'
import type { Pinned, RunInput } from '../method.ts'
import { planeBox } from './plane-layout.ts'

function asEntered(si: number, unit: Unit): Entered {
  return { si, typed: String(si), unit }
}

/** The plane of a zone told as a face: as wide and deep as the box around its boundary, of the area inside it. It hangs nowhere. */
export function zoneAsFace({ id, revision, body }: Pinned<'zone'>): Pinned<'terminal'> {
  const { centre, widthM, depthM } = planeBox(body.boundary)
  const face: EntityBody<'terminal'> = {
    tag: body.name,
    kind: 'supply_filter',
    zoneId: id,
    x: centre.x,
    y: centre.y,
    rotationDegrees: 0,
    mounting: 'ceiling',
    grossWidth: asEntered(widthM, 'm'),
    grossDepth: asEntered(depthM, 'm'),
    effectiveArea: asEntered(outlineAreaM2(body.boundary), 'm2'),
    face: 'bare',
    airSource: 'air_handler',
    designVelocity: null,
    designFlow: null,
    correctionFactor: null,
    ...LATER_FIELDS.terminal,
    grid: null,
    closed: null,
    note: '',
  }
  return { id, revision, body: face }
}

/**
 * A run over the plane of a zone, told as a run over one face that is the whole plane: so the points are gathered, converted and judged by the same
 * calculation as those of a filter. The face stands in for nothing that hangs anywhere, and gives no flow.
 */
export function asOneFace(input: RunInput, zone: Pinned<'zone'>): { input: RunInput; face: Pinned<'terminal'> } {
  const face = zoneAsFace(zone)
  const locations = input.locations.map((location) => ({ ...location, terminalId: zone.id }))
  return { input: { ...input, locations, terminals: [face] }, face }
}
