import { cipmKgpm3, type RoomAir, standardAtmospherePa } from './air.ts'
import { type Bodies, type Pinned, type Reading, type RunInForm, si } from './form.ts'

/* Means, flows, air changes and the balance, from the rules of the trade alone. Three figures of everything: as indicated, standard, actual. */

/** One reading as it enters the uncertainty: what was shown, and how much the actual figure moves with it. */
export type Used = { readonly reading: Reading; readonly shown: number; readonly figure: number; readonly slope: number }
export type TerminalFigures = {
  readonly id: string
  readonly body: Bodies['terminal']
  /** in which its readings were taken */
  readonly air: RoomAir
  readonly way: 'face_grid' | 'hood' | 'duct_traverse' | 'flow_element'
  readonly planned: number
  readonly indicated: readonly number[]
  /** null where an instrument states no standard condition */
  readonly standard: readonly number[] | null
  readonly actual: readonly number[]
  readonly used: readonly Used[]
  readonly areaM2: number
  readonly hoodFactor: number | null
}

export const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0)
export const mean = (values: readonly number[]): number => sum(values) / values.length
export function deviation(values: readonly number[]): number {
  const middle = mean(values)
  return Math.sqrt(sum(values.map((value) => (value - middle) ** 2)) / (values.length - 1))
}

export function airIn(run: RunInForm): RoomAir {
  const { temperature, relativeHumidity, pressure } = run.body.conditions
  const altitudeM = run.of('facility')[0]?.body.altitudeM ?? 0
  const at = {
    temperatureC: si(temperature),
    humidityPercent: si(relativeHumidity),
    pressurePa: pressure ? si(pressure) : standardAtmospherePa(altitudeM),
    pressureMeasured: pressure !== null,
  }
  return { ...at, kgpm3: cipmKgpm3(at.temperatureC, at.pressurePa, at.humidityPercent) }
}

export type Instrument = Pinned<'instrument'> & {
  readonly standardKgpm3: number | null
  readonly certificates: readonly Pinned<'calibration'>[]
}

export function instrumentsIn(runs: readonly RunInForm[]): ReadonlyMap<string, Instrument> {
  const certificates = runs.flatMap((run) => run.of('calibration'))
  return new Map(
    runs.flatMap((run) =>
      run.of('instrument').map((pinned) => {
        const condition = pinned.body.standardCondition
        const standardKgpm3 = condition && cipmKgpm3(si(condition.temperature), si(condition.pressure), 0)
        const own = certificates.filter(({ parentId }) => parentId === pinned.id)
        return [pinned.id, { ...pinned, standardKgpm3, certificates: own }] as const
      }),
    ),
  )
}

/** The certificate that the last calibration before a reading gave. */
export function certificateOf({ certificates }: Instrument, { at }: Reading): Pinned<'calibration'> | null {
  const before = certificates.filter(({ body }) => body.calibratedOn <= at.slice(0, 10))
  return before.sort((a, b) => a.body.calibratedOn.localeCompare(b.body.calibratedOn)).at(-1) ?? null
}

/** Correction, its standard uncertainty and what the straight line may miss, at a reading. */
export function correctionAt(certificate: Pinned<'calibration'> | null, quantity: string, shown: number) {
  const points = (certificate?.body.points ?? [])
    .filter((point) => point.quantity === quantity)
    .map((point) => ({
      at: si(point.reading),
      by: si(point.trueValue) - si(point.reading),
      u: si(point.expandedUncertainty) / point.coverageFactor,
    }))
    .sort((a, b) => a.at - b.at)
  const [first] = points
  const last = points.at(-1)
  if (!first || !last) return null
  const steps = points.slice(1).map((point, index) => Math.abs(point.by - (points[index]?.by ?? 0)) / 2)
  if (shown < first.at) return { by: first.by, u: first.u, missed: Math.max(...steps) }
  if (shown > last.at) return { by: last.by, u: last.u, missed: Math.max(...steps) }
  const on = points.find(({ at }) => at === shown)
  if (on) return { by: on.by, u: on.u, missed: 0 }
  const upper = points.findIndex(({ at }) => at > shown)
  const [left, right] = [points[upper - 1] ?? first, points[upper] ?? last]
  const part = (shown - left.at) / (right.at - left.at)
  return { by: left.by + part * (right.by - left.by), u: left.u + part * (right.u - left.u), missed: steps[upper - 1] ?? 0 }
}

function wayOf(body: Bodies['terminal']): TerminalFigures['way'] {
  if (body.measuredBy === 'duct_traverse' || body.measuredBy === 'flow_element') return body.measuredBy
  const isFilter = body.kind === 'supply_filter' || body.kind === 'fan_filter_unit'
  return isFilter && (body.face === 'bare' || body.face === 'screen') ? 'face_grid' : 'hood'
}

type Told = {
  readonly indicated: number
  readonly standard: number | null
  readonly actual: number
  readonly used: Used
  readonly factor: number | null
}

const NEGLIGIBLE = 1e-9

/** The hood's factor by what it showed: of the first range that holds it, from below; outside all, of the nearest, known only as well as the worst. */
export function hoodEntry(instrument: Instrument, face: string, shown: number): { factor: number; percent: number } | null {
  const entries = instrument.body.hoodFactors.filter((entry) => entry.face === face)
  const gaps = entries.map(({ low, high, factor, uncertaintyPercent }) => {
    const [from, to] = [si(low) * (1 - NEGLIGIBLE), si(high) * (1 + NEGLIGIBLE)]
    return { from, gap: Math.max(0, from - Math.abs(shown), Math.abs(shown) - to), factor, percent: uncertaintyPercent }
  })
  const [nearest] = gaps.sort((a, b) => a.gap - b.gap || a.from - b.from)
  if (!nearest) return null
  return nearest.gap === 0 ? nearest : { ...nearest, percent: Math.max(...gaps.map(({ percent }) => percent)) }
}

/** What one reading says of the air. */
function tell(reading: Reading, body: Bodies['terminal'] | null, way: TerminalFigures['way'], instrument: Instrument, air: RoomAir): Told {
  const shown = si(reading)
  const correction = instrument.body.correctsByPoints ? correctionAt(certificateOf(instrument, reading), reading.quantity, shown) : null
  const value = shown + (correction?.by ?? 0)
  const standardKgpm3 = instrument.standardKgpm3
  const through = body && (way === 'duct_traverse' || way === 'flow_element') ? throughPressure(body, way) : null
  if (through) {
    const root = (kgpm3: number) => through * Math.sqrt((2 * value) / kgpm3)
    const actual = root(air.kgpm3)
    const standard = standardKgpm3 === null ? null : (actual * air.kgpm3) / standardKgpm3
    const used = { reading, shown, figure: actual, slope: actual / (2 * value) }
    return { indicated: root(standardKgpm3 ?? cipmKgpm3(20, 101_325, 0)), standard, actual, used, factor: null }
  }
  const factor = way === 'hood' && body ? (hoodEntry(instrument, body.face, shown)?.factor ?? 1) : 1
  const indicated = value * factor
  const toActual = instrument.body.basis === 'standard' && standardKgpm3 !== null ? standardKgpm3 / air.kgpm3 : 1
  const toStandard = instrument.body.basis === 'standard' ? 1 : standardKgpm3 === null ? null : air.kgpm3 / standardKgpm3
  const used = { reading, shown, figure: indicated * toActual, slope: factor * toActual }
  return {
    indicated,
    standard: toStandard === null ? null : indicated * toStandard,
    actual: indicated * toActual,
    used,
    factor: way === 'hood' ? factor : null,
  }
}

/** Velocity or flow = this x sqrt(2 dp / rho): the pitot tube's coefficient, or C eps A / sqrt(1 - beta^4) of an orifice. */
function throughPressure(body: Bodies['terminal'], way: 'duct_traverse' | 'flow_element'): number {
  if (way === 'duct_traverse') return body.duct?.pitotCoefficient ?? Number.NaN
  const element = body.flowElement
  if (!element) return Number.NaN
  const [bore, duct] = [si(element.boreDiameter), si(element.ductDiameter)]
  return (element.coefficient * element.expansibility * (Math.PI / 4) * bore ** 2) / Math.sqrt(1 - (bore / duct) ** 4)
}

function byPoint(told: readonly Told[], figure: (one: Told) => number): number[] {
  const points = new Map<number, number[]>()
  for (const one of told) points.set(one.used.reading.point, [...(points.get(one.used.reading.point) ?? []), figure(one)])
  return [...points].sort(([a], [b]) => a - b).map(([, values]) => mean(values))
}

function figuresOf(
  id: string,
  body: Bodies['terminal'] | null,
  run: RunInForm,
  instruments: ReadonlyMap<string, Instrument>,
): TerminalFigures {
  const way = body ? wayOf(body) : 'face_grid'
  const air = airIn(run)
  const points = run.points.filter(({ terminalId }) => terminalId === (body ? id : null)).map(({ number }) => number)
  const told = run.readings
    .filter(({ point }) => points.includes(point))
    .map((reading) => {
      const instrument = instruments.get(reading.instrumentId)
      if (!instrument) throw new Error(`${body?.tag} was read with an unknown instrument.`)
      return tell(reading, body, way, instrument, air)
    })
  const factors = told.flatMap(({ factor }) => factor ?? [])
  const whole = body ?? ({} as Bodies['terminal'])
  return {
    id,
    air,
    body: whole,
    way,
    planned: points.length,
    indicated: byPoint(told, ({ indicated }) => indicated),
    standard: told.every(({ standard }) => standard !== null) ? byPoint(told, ({ standard }) => standard ?? Number.NaN) : null,
    actual: byPoint(told, ({ actual }) => actual),
    used: told.map(({ used }) => used),
    areaM2:
      way === 'duct_traverse' && body?.duct
        ? si(body.duct.section.width) * si(body.duct.section.height)
        : body
          ? si(body.effectiveArea)
          : Number.NaN,
    hoodFactor: factors.length === 0 ? null : mean(factors),
  }
}

/** Every terminal of a run, carried ones from the run they come from. */
export function terminalsIn(
  run: RunInForm,
  find: (runId: string) => RunInForm,
): { terminals: TerminalFigures[]; instruments: ReadonlyMap<string, Instrument> } {
  const sources = run.body.carried.map(({ fromRunId, terminalIds }) => ({ from: find(fromRunId), terminalIds }))
  const instruments = instrumentsIn([run, ...sources.map(({ from }) => from)])
  const measured = new Set(run.points.map(({ terminalId }) => terminalId))
  const terminals = run
    .of('terminal')
    .filter(({ id }) => measured.has(id))
    .map(({ id, body }) => figuresOf(id, body, sources.find(({ terminalIds }) => terminalIds.includes(id))?.from ?? run, instruments))
  return { terminals, instruments }
}

/** The points over the plane of a zone. */
export function planeIn(run: RunInForm): TerminalFigures {
  return figuresOf('', null, run, instrumentsIn([run]))
}

export function flowOf({ way, areaM2 }: TerminalFigures, points: readonly number[]): number {
  return way === 'face_grid' || way === 'duct_traverse' ? mean(points) * areaM2 : mean(points)
}

export function isSupply({ body }: TerminalFigures): boolean {
  return body.kind === 'supply_filter' || body.kind === 'fan_filter_unit'
}

/** Plan area by the shoelace formula, times the ceiling height. */
export function volumeM3({ shape, ceilingHeight }: Bodies['room']): number {
  const { points = [], width = 0, depth = 0 } = shape
  if (shape.kind === 'rectangle') return width * depth * si(ceilingHeight)
  const doubled = sum(
    points.map(({ x, y }, index) => {
      const next = points[(index + 1) % points.length] ?? { x, y }
      return x * next.y - next.x * y
    }),
  )
  return (Math.abs(doubled) / 2) * si(ceilingHeight)
}
