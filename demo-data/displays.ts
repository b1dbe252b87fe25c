import { dryAirDensityKgpm3, moistAirDensity } from '#core/air/moist-air-density.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { TerminalFace } from '#core/model/terminals.ts'
import type { Quantity, Unit, Uuid } from '#core/model/values.ts'
import { fromSi } from '#core/units/units.ts'
import { instrumentBody } from './office.ts'
import { source } from './source.ts'

/** The air at a room on one day, as it was and not as it was written down. */
export type RoomAir = {
  readonly temperatureC: number
  readonly humidityPercent: number
  readonly pressurePa: number
  readonly densityKgpm3: number
}

export function roomAir(roomNumber: string, stationPressurePa: number): RoomAir {
  const step = Number(roomNumber.slice(-1))
  const temperatureC = 20 + step * 0.2
  const humidityPercent = 42 + step
  const pressurePa = stationPressurePa + step * 10
  const density = moistAirDensity({ temperatureC, pressurePa, relativeHumidityPercent: humidityPercent })
  if (!density) throw new Error('The demo breathes no such air.')
  return { temperatureC, humidityPercent, pressurePa, densityKgpm3: density.densityKgpm3 }
}

/** An instrument of the demo as a technician holds it: its true air goes in, what its display shows comes out. */
export type Display = {
  readonly id: Uuid
  readonly body: EntityBody<'instrument'>
  readonly showsVelocity: (actualMps: number, air: RoomAir, day: string) => number
  readonly showsFlow: (actualM3ps: number, face: TerminalFace, air: RoomAir) => number
}

/** What a figure of actual air becomes on a display: standard flow is the same mass at the standard density. */
function perActual(body: EntityBody<'instrument'>, air: RoomAir): number {
  const standard = body.standardCondition
  if (body.basis !== 'standard' || !standard) return 1
  const standardKgpm3 = dryAirDensityKgpm3(standard.temperature.si, standard.pressure.si)
  if (standardKgpm3 === null) throw new Error(`${body.name} speaks of no such air.`)
  return air.densityKgpm3 / standardKgpm3
}

type Certificate = (typeof source.peopleAndInstruments.instruments)[string]['calibrations'][number]

/**
 * The certificate whose points tell how the instrument errs on a day: the one in force where it corrects by points; else a later one that
 * found it out of tolerance.
 */
function erringBy(certificates: readonly Certificate[], corrects: boolean, day: string): Certificate | null {
  const inForce = certificates.filter(({ on }) => on <= day).at(-1) ?? null
  if (corrects) return inForce
  return certificates.find(({ on, foundInTolerance }) => on > day && !foundInTolerance) ?? null
}

/** The reading that an instrument with these points shows of a true value: its line of corrections, read backwards. */
function readingOf(trueValue: number, points: readonly (readonly [number, number])[]): number {
  const [first] = points
  const last = points.at(-1)
  if (!first || !last) return trueValue
  if (trueValue <= first[1]) return trueValue + first[0] - first[1]
  for (const [index, [reading, value]] of points.entries()) {
    const before = points[index - 1]
    if (before && trueValue <= value) return before[0] + ((trueValue - before[1]) * (reading - before[0])) / (value - before[1])
  }
  return trueValue + last[0] - last[1]
}

export function displayOf(key: string, id: Uuid): Display {
  const known = source.peopleAndInstruments.instruments[key]
  if (!known) throw new Error(`The demo source speaks of an instrument ${key} that it does not have.`)
  const { calibrations, ...rest } = known
  const body = instrumentBody(rest)
  return {
    id,
    body,
    showsVelocity(actualMps, air, day) {
      const points = erringBy(calibrations, known.correctsByPoints, day)?.points ?? []
      return readingOf(
        actualMps * perActual(body, air),
        points.map(([reading, value]) => [Number(reading), Number(value)] as const),
      )
    },
    showsFlow(actualM3ps, face, air) {
      const standard = actualM3ps * perActual(body, air)
      const own = body.hoodFactors
        .filter((entry) => entry.face === face)
        .find(({ factor, low, high }) => standard / factor >= low.si && standard / factor <= high.si)
      return standard / (own?.factor ?? 1)
    },
  }
}

/** Pressure in the plane of a pitot tube or over an element that stands for a velocity in its narrowest section, Pa. */
export function dynamicPressurePa(velocityMps: number, { densityKgpm3 }: RoomAir): number {
  return (densityKgpm3 / 2) * velocityMps ** 2
}

/** What the display shows: as many decimals as its step has, in its unit. */
export function shown(si: number, unit: Unit, body: EntityBody<'instrument'>, quantity: Quantity): string {
  const step = body.senses.find((one) => one.quantity === quantity)?.resolution.typed ?? '1'
  const decimals = unit === 'ft/min' ? 0 : (step.split('.')[1] ?? '').length
  return fromSi(si, unit).toFixed(decimals)
}
