import type { Quantity } from '#core/model/values.ts'

const CALLED: Readonly<Record<Quantity, readonly string[]>> = {
  velocity: ['velocity', 'air velocity', 'face velocity', 'speed', 'air speed'],
  flow: ['flow', 'air flow', 'airflow', 'volume flow', 'flow rate'],
  pressure_difference: ['pressure difference', 'differential pressure', 'pressure drop'],
  velocity_pressure: ['velocity pressure', 'dynamic pressure'],
  temperature: ['temperature', 'air temperature'],
  relative_humidity: ['relative humidity', 'humidity'],
  barometric_pressure: ['barometric pressure', 'absolute pressure'],
}

/** The quantity that a word of the trade means (common practice); null for a word that the program does not know. */
export function quantityCalled(text: string): Quantity | null {
  const plain = text
    .trim()
    .toLowerCase()
    .replace(/[_\s-]+/g, ' ')
  // The keys are quantities by the type of the table.
  const found = (Object.entries(CALLED) as [Quantity, readonly string[]][]).find(([, words]) => words.includes(plain))
  return found?.[0] ?? null
}
