import type { Entity } from '#core/model/entities.ts'
import type { Location, Reading } from '#core/model/readings.ts'
import type { Uuid } from '#core/model/values.ts'

export type Repeat = {
  readonly reading: Reading
  /** counted within its terminal; null where the terminal has one point alone */
  readonly point: number | null
  /** what was read instead; null where the reading was taken back alone */
  readonly after: Reading | null
}
export type Repeats = { readonly terminalId: Uuid | null; readonly tag: string; readonly readings: readonly Repeat[] }

/** Readings that were replaced or taken back, terminal by terminal, those with the most first. */
export function repeatsOf(readings: readonly Reading[], locations: readonly Location[], pins: readonly Entity[]): Repeats[] {
  const terminalOf = new Map(locations.map(({ number, terminalId }) => [number, terminalId]))
  const tags = new Map(pins.flatMap((pin): [Uuid, string][] => (pin.kind === 'terminal' ? [[pin.id, pin.body.tag]] : [])))
  const known = new Map(readings.map((reading) => [reading.id, reading]))
  const groups = new Map<Uuid | null, Repeat[]>()
  for (const reading of readings) {
    if (!reading.voided) continue
    const terminalId = terminalOf.get(reading.point) ?? null
    const own = locations.filter((location) => location.terminalId === terminalId)
    const place = own.filter(({ number }) => number <= reading.point).length
    const after = reading.voided.replacedBy === null ? null : (known.get(reading.voided.replacedBy) ?? null)
    groups.set(terminalId, [...(groups.get(terminalId) ?? []), { reading, point: own.length > 1 ? place : null, after }])
  }
  return [...groups]
    .map(([terminalId, own]) => ({ terminalId, tag: terminalId === null ? '' : (tags.get(terminalId) ?? ''), readings: own }))
    .sort((one, other) => other.readings.length - one.readings.length || one.tag.localeCompare(other.tag))
}
