import type { Basis } from '#core/model/values.ts'
import { correctReading } from '#core/uncertainty/calibration-points.ts'
import { hasTwoDensities } from '../air-of-run.ts'
import type { Gathered, ReadingsOfUse } from '../gather.ts'
import { airReading } from '../reading-to-air.ts'

/**
 * Relative change of the figure for a relative change of each of the two densities. Where the conditions at the instrument were not recorded
 * separately there is one density, which stands at the filter.
 */
export type DensityExponents = { readonly atFilter: number; readonly atInstrument: number }

const NO_DENSITY: DensityExponents = { atFilter: 0, atInstrument: 0 }

/** How the readings of one instrument in one terminal become the figure on a basis. */
export type Slopes = {
  /** change of the velocity or flow for a unit of the reading; one number where it is the same for all, else reading by reading */
  readonly slope: number | readonly number[]
  /** sum of the velocities or flows that the readings stand for */
  readonly sum: number
  readonly densityExponents: DensityExponents
}

function isPressure(of: Gathered): boolean {
  return of.way === 'flow_element' || (of.way === 'duct_traverse' && of.terminal.body.duct?.measures === 'velocity_pressure')
}

function densityExponents(of: Gathered, { use }: ReadingsOfUse, basis: Basis): DensityExponents {
  if (basis === 'as_indicated') return NO_DENSITY
  const ofPressure = basis === 'actual' ? -0.5 : 0.5
  const own = isPressure(of) ? ofPressure : use.conversion[basis].actualDensityExponent
  if (!hasTwoDensities(of.air)) return { atFilter: own, atInstrument: 0 }
  // The display is converted with the air at the instrument; from there to the filter the mass stays: times its density over the filter's.
  return basis === 'actual' ? { atFilter: -1, atInstrument: own + 1 } : { atFilter: 0, atInstrument: own }
}

function corrected({ use }: ReadingsOfUse, indicated: number): number {
  return use.curve ? correctReading(use.curve, indicated).corrected : indicated
}

function alike(of: Gathered, readings: ReadingsOfUse, basis: Basis): Slopes {
  const slope = basis === 'as_indicated' ? 1 : readings.use.conversion[basis].factor
  let sum = 0
  for (const indicated of readings.indicated) sum += corrected(readings, indicated)
  return { slope, sum: sum * slope, densityExponents: densityExponents(of, readings, basis) }
}

function oneByOne(of: Gathered, readings: ReadingsOfUse, basis: Basis): Slopes {
  const slopes: number[] = []
  let sum = 0
  const power = isPressure(of) ? 2 : 1
  for (const indicated of readings.indicated) {
    const value = corrected(readings, indicated)
    const told = airReading(value, indicated, of, readings.use)
    const figure = (basis === 'as_indicated' ? told.indicated : told[basis]) ?? 0
    sum += figure
    // A pressure moves its velocity by v / 2p: none at zero, where a pitot tube is flagged anyway.
    slopes.push(value === 0 ? 0 : figure / (power * value))
  }
  return { slope: slopes, sum, densityExponents: densityExponents(of, readings, basis) }
}

/** What each reading of a terminal says on a basis, for ways that give the flow as one value: its repeats. */
export function repeatsOf(of: Gathered, basis: Basis): number[] {
  return of.readings.flatMap((readings) =>
    readings.indicated.map((indicated) => {
      const told = airReading(corrected(readings, indicated), indicated, of, readings.use)
      return (basis === 'as_indicated' ? told.indicated : told[basis]) ?? 0
    }),
  )
}

/**
 * Sensitivities of a terminal's mean to the readings of one instrument, before averaging, on a basis that the terminal's readings can be had on.
 * Velocities on a face have one factor; a hood's factor depends on the flow, and a pressure enters by its square root. Source: GUM 5.1.3.
 */
export function slopesOf(of: Gathered, readings: ReadingsOfUse, basis: Basis): Slopes {
  const isPlain = of.way === 'face_grid' || (of.way === 'duct_traverse' && !isPressure(of))
  return isPlain ? alike(of, readings, basis) : oneByOne(of, readings, basis)
}
