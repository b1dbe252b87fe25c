import type { EntityBody } from '#core/model/entities.ts'
import { wayOf } from './ways.ts'

/**
 * Codes of the cautions shown before the first reading of a run of face velocities: always height and traffic, pressure and the site's own
 * rules; energised fans where fan filter units hang; and one for each hazard of the room. Sentences in core/messages.
 * Source: the house's list of usual cautions (common practice; 29 CFR 1910.23, 1910.28 and 1910.147 from memory).
 */
export function airflowCautions(room: EntityBody<'room'>, terminals: readonly EntityBody<'terminal'>[]): string[] {
  const codes: string[] = []
  if (terminals.some((terminal) => terminal.mounting === 'ceiling')) codes.push('caution.height')
  if (terminals.some((terminal) => terminal.kind === 'fan_filter_unit')) codes.push('caution.fans')
  if (room.hazards.includes('sterile')) codes.push('caution.sterile')
  if (room.hazards.includes('hazardous_drug')) codes.push('caution.hazardous_drug')
  if (room.hazards.includes('biological')) codes.push('caution.biological')
  if (room.hazards.includes('aerosol')) codes.push('caution.aerosol')
  codes.push('caution.pressure', 'caution.site_first')
  return codes
}

/** Those of {@link airflowCautions}, before them what a run brings that measures in ducts and by hood (common practice). */
export function roomAirflowCautions(room: EntityBody<'room'>, terminals: readonly EntityBody<'terminal'>[]): string[] {
  const codes: string[] = []
  if (terminals.some((terminal) => terminal.kind === 'duct_section')) codes.push('caution.ducts')
  if (terminals.some((terminal) => wayOf(terminal) === 'hood')) codes.push('caution.hood')
  return [...codes, ...airflowCautions(room, terminals)]
}
