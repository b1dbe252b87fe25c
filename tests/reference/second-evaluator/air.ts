/*
 * Air densities, written down a second time from the published equations: CIPM-2007 (Picard et al., Metrologia 45 (2008) 149-155, in the
 * secondary form rho = [3.483740e-3 + ...] p / (Z T) (1 - 0.3780 xv) for 400 umol/mol of carbon dioxide), and the standard atmosphere (ISO 2533).
 */
export function cipmKgpm3(temperatureC: number, pressurePa: number, humidityPercent: number): number {
  const kelvin = 273.15 + temperatureC
  const saturation = Math.exp(1.2378847e-5 * kelvin ** 2 - 1.9121316e-2 * kelvin + 33.93711047 - 6.3431645e3 / kelvin)
  const vapour = ((humidityPercent / 100) * (1.00062 + 3.14e-8 * pressurePa + 5.6e-7 * temperatureC ** 2) * saturation) / pressurePa
  const first = 1.58123e-6 - 2.9331e-8 * temperatureC + 1.1043e-10 * temperatureC ** 2
  const mixed = (5.707e-6 - 2.051e-8 * temperatureC) * vapour + (1.9898e-4 - 2.376e-6 * temperatureC) * vapour ** 2
  const z = 1 - (pressurePa / kelvin) * (first + mixed) + (pressurePa / kelvin) ** 2 * (1.83e-11 - 0.765e-8 * vapour ** 2)
  const molar = (28.96546e-3 * (1 - vapour) + 18.01528e-3 * vapour) / 8.314472
  return (pressurePa * molar) / (z * kelvin)
}

export function standardAtmospherePa(altitudeM: number): number {
  return 101_325 * (1 - (0.0065 * altitudeM) / 288.15) ** (9.80665 / (287.05287 * 0.0065))
}

export type RoomAir = {
  readonly temperatureC: number
  readonly pressurePa: number
  readonly humidityPercent: number
  readonly kgpm3: number
  readonly pressureMeasured: boolean
}

/** Relative change of the density for a kelvin, a pascal and a percent of humidity. */
export function densitySlopes({ temperatureC, pressurePa, humidityPercent, kgpm3 }: RoomAir) {
  return {
    perKelvin:
      (cipmKgpm3(temperatureC + 0.01, pressurePa, humidityPercent) - cipmKgpm3(temperatureC - 0.01, pressurePa, humidityPercent)) /
      0.02 /
      kgpm3,
    perPascal:
      (cipmKgpm3(temperatureC, pressurePa + 1, humidityPercent) - cipmKgpm3(temperatureC, pressurePa - 1, humidityPercent)) / 2 / kgpm3,
    perPercent:
      (cipmKgpm3(temperatureC, pressurePa, humidityPercent + 0.5) - cipmKgpm3(temperatureC, pressurePa, humidityPercent - 0.5)) / kgpm3,
  }
}
