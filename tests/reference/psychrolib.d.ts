/** The parts of the psychrometrics library that are used as an independent check; it comes without types. SI: degC, fractions, Pa. */
declare module 'psychrolib' {
  const psychrolib: {
    SI: number
    SetUnitSystem(system: number): void
    GetSatVapPres(temperature: number): number
    GetHumRatioFromRelHum(temperature: number, relativeHumidity: number, pressure: number): number
    GetHumRatioFromTWetBulb(temperature: number, wetBulb: number, pressure: number): number
    GetRelHumFromHumRatio(temperature: number, humidityRatio: number, pressure: number): number
    GetMoistAirDensity(temperature: number, humidityRatio: number, pressure: number): number
    GetMoistAirVolume(temperature: number, humidityRatio: number, pressure: number): number
    GetStandardAtmPressure(altitude: number): number
  }
  export default psychrolib
}
