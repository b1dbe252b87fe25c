import type { Entity } from '#core/model/entities.ts'
import type { Location, Reading } from '#core/model/readings.ts'
import type { Uuid } from '#core/model/values.ts'

export type Repeats = { readonly terminalId: Uuid | null; readonly tag: string; readonly readings: readonly Reading[] }

/** Readings that were replaced or taken back, terminal by terminal, those with the most first. */
export function repeatsOf(readings: readonly Reading[], locations: readonly Location[], pins: readonly Entity[]): Repeats[] {
  const terminalOf = new Map(locations.map(({ number, terminalId }) => [number, terminalId]))
  const tags = new Map(pins.flatMap((pin): [Uuid, string][] => (pin.kind === 'terminal' ? [[pin.id, pin.body.tag]] : [])))
  const groups = new Map<Uuid | null, Reading[]>()
  for (const reading of readings) {
    if (!reading.voided) continue
    const terminalId = terminalOf.get(reading.point) ?? null
    groups.set(terminalId, [...(groups.get(terminalId) ?? []), reading])
  }
  return [...groups]
    .map(([terminalId, own]) => ({ terminalId, tag: terminalId === null ? '' : (tags.get(terminalId) ?? ''), readings: own }))
    .sort((one, other) => other.readings.length - one.readings.length || one.tag.localeCompare(other.tag))
}
