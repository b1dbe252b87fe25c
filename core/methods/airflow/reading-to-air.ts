import { isWeakForPitot, velocityFromPressureMps } from '#core/air/velocity-pressure.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { FlowElement as ElementBody, FlowWay } from '#core/model/terminals.ts'
import { type FoundFactor, hoodFactorFor } from '../hood/hood-flow.ts'
import { type FlowElement, flowFromDifferentialPressureM3ps } from '../orifice/orifice-flow.ts'
import { REFERENCE_DENSITY_KGPM3, type RunAir } from './air-of-run.ts'
import type { NoBasis } from './instrument-conversion.ts'
import type { InstrumentUse } from './instrument-use.ts'
import { airDirectionOf } from './ways.ts'

/**
 * What one reading says of the air, m/s or m3/s by the way it was measured: as indicated, of standard air and of the air at the filter. NaN
 * where it cannot be had; then `missing` says why. Null as indicated: the reading says nothing, such as a flow element blown backwards.
 */
export type AirReading = {
  readonly indicated: number | null
  readonly standard: number
  readonly actual: number
  readonly missing: { readonly standard: NoBasis | null; readonly actual: NoBasis | null }
  readonly hood: { readonly factor: number; readonly found: FoundFactor | null } | null
  readonly weak: boolean
}

type Terminal = EntityBody<'terminal'>

/** How a terminal is measured, and in which air its readings were taken. */
type Measured = { readonly way: FlowWay; readonly terminal: { readonly body: Terminal }; readonly air: RunAir }

/** A pressure, worked out for a density: the velocity or flow that it stands for, or null. */
type AtDensity = (densityKgpm3: number) => number | null

function fromPressure(at: AtDensity, indicatedKgpm3: number, use: InstrumentUse, air: RunAir): Omit<AirReading, 'hood' | 'weak'> {
  const { standardKgpm3 } = use.conversion
  const indicated = at(indicatedKgpm3)
  const atInstrument = air.atInstrumentKgpm3 === null ? null : at(air.atInstrumentKgpm3)
  // What passes is a mass; at another density the same mass has another volume.
  const per = (densityKgpm3: number | null) =>
    atInstrument === null || air.atInstrumentKgpm3 === null || densityKgpm3 === null
      ? Number.NaN
      : (atInstrument * air.atInstrumentKgpm3) / densityKgpm3
  const standard = per(standardKgpm3)
  const actual = per(air.actualKgpm3)
  return {
    indicated,
    standard,
    actual,
    missing: {
      standard: !Number.isNaN(standard) ? null : atInstrument === null ? 'conditions' : 'standard_condition',
      actual: Number.isNaN(actual) ? 'conditions' : null,
    },
  }
}

/** A flow element as entered, in SI. */
export function elementOf(body: ElementBody): FlowElement {
  if (body.kind === 'stated')
    return { kind: 'stated', flowAtOnePascalM3ps: body.flowAtOnePascal.si, statedDensityKgpm3: body.statedDensityKgpm3 }
  const { coefficient, boreDiameter, ductDiameter, expansibility } = body
  return { kind: 'discharge', coefficient, boreDiameterM: boreDiameter.si, ductDiameterM: ductDiameter.si, expansibility }
}

function byHood(flowM3ps: number, shownM3ps: number, terminal: Terminal, use: InstrumentUse): AirReading {
  // Some hoods show air that is drawn in as negative (common practice): at a return or an exhaust that is its own direction.
  const own = airDirectionOf(terminal) === 'supply' ? flowM3ps : Math.abs(flowM3ps)
  const found = hoodFactorFor(shownM3ps, terminal.face, use.hoodFactors)
  const factor = found?.entry.factor ?? 1
  const { standard, actual } = use.conversion
  const flow = own * factor
  return {
    indicated: flow,
    standard: flow * standard.factor,
    actual: flow * actual.factor,
    missing: { standard: standard.missing, actual: actual.missing },
    hood: { factor, found },
    weak: false,
  }
}

/**
 * What a reading (corrected by calibration points where the instrument is) says of the air, by the way its terminal is measured. `value` in m/s, m3/s
 * or Pa; `shown` is what the display showed, by which a hood's factor is found. A velocity pressure or a flow element's pressure, as indicated, is worked out for the instrument's standard air, else for 1.2046
 * kg/m3 (an element with a stated density: for that); of the air at the filter with the densities of the conditions. Source: Bernoulli; conservation of mass.
 */
export function airReading(
  value: number,
  shown: number,
  { way, terminal: { body: terminal }, air }: Measured,
  use: InstrumentUse,
): AirReading {
  if (way === 'hood') return byHood(value, shown, terminal, use)
  const indicatedKgpm3 = use.conversion.standardKgpm3 ?? REFERENCE_DENSITY_KGPM3
  if (way === 'flow_element' && terminal.flowElement) {
    const element = elementOf(terminal.flowElement)
    const forDensity = element.kind === 'stated' ? element.statedDensityKgpm3 : indicatedKgpm3
    const at: AtDensity = (densityKgpm3) => flowFromDifferentialPressureM3ps(value, densityKgpm3, element)
    return { ...fromPressure(at, forDensity, use, air), hood: null, weak: false }
  }
  if (way === 'duct_traverse' && terminal.duct?.measures === 'velocity_pressure') {
    const { pitotCoefficient } = terminal.duct
    const at: AtDensity = (densityKgpm3) => velocityFromPressureMps(value, densityKgpm3, pitotCoefficient)
    const figures = fromPressure(at, indicatedKgpm3, use, air)
    return { ...figures, hood: null, weak: isWeakForPitot(value, figures.indicated) }
  }
  const { standard, actual } = use.conversion
  return {
    indicated: value,
    standard: value * standard.factor,
    actual: value * actual.factor,
    missing: { standard: standard.missing, actual: actual.missing },
    hood: null,
    weak: false,
  }
}
