import { densitySlopes, type RoomAir } from './air.ts'
import { certificateOf, correctionAt, deviation, hoodEntry, type Instrument, mean, sum, type TerminalFigures } from './figures.ts'
import { type Settings, si } from './form.ts'

/*
 * Uncertainty by plain quadrature, from the GUM (JCGM 100:2008) and the rules of domain A6: errors of one instrument under one certificate add
 * with their signs, all else in squares; effective degrees of freedom by Welch and Satterthwaite, truncated; k from Student's t.
 */
export type Errors = { readonly shared: ReadonlyMap<string, number>; readonly alone: readonly { u: number; freedom: number }[] }

const half = (percent: number): number => percent / 100 / Math.sqrt(3)

function densityRelative(air: RoomAir, settings: Settings): number {
  const { perKelvin, perPascal, perPercent } = densitySlopes(air)
  const parts = [
    (perKelvin * settings.temperatureK) / Math.sqrt(3),
    (perPascal * (air.pressureMeasured ? settings.pressurePa : 0.03 * air.pressurePa)) / Math.sqrt(3),
    (perPercent * settings.relativeHumidityPercent) / Math.sqrt(3),
    22e-6,
  ]
  return Math.sqrt(sum(parts.map((part) => part ** 2)))
}

type Setting = {
  readonly settings: Settings
  readonly instruments: ReadonlyMap<string, Instrument>
  readonly modelOf: (terminalId: string) => string
}

/** Half the width of the accuracy statement at a reading; the demo's are all sums. */
function stated({ accuracy }: Instrument['body']['senses'][number], shown: number): number {
  return (accuracy.percentOfReading / 100) * shown + si(accuracy.absolute)
}

/** Errors of a terminal's actual mean (velocity, or flow where it is read as such). */
export function meanErrors(terminal: TerminalFigures, { settings, instruments }: Setting): Errors {
  const { way, actual, used, air } = terminal
  const shared = new Map<string, number>()
  const alone: { u: number; freedom: number }[] = []
  const add = (group: string, u: number) => shared.set(group, (shared.get(group) ?? 0) + u / used.length)
  let moved = 0
  for (const [instrumentId, readings] of Map.groupBy(used, ({ reading }) => reading.instrumentId)) {
    const instrument = instruments.get(instrumentId)
    const sensed = instrument?.body.senses.find(({ quantity }) => quantity === readings[0]?.reading.quantity)
    if (!instrument || !sensed) throw new Error('The second evaluator lacks an instrument.')
    for (const { reading, shown, figure, slope } of readings) {
      const certificate = certificateOf(instrument, reading)
      const name = `${instrumentId} ${certificate?.id} ${reading.quantity}`
      const correction = instrument.body.correctsByPoints ? correctionAt(certificate, reading.quantity, shown) : null
      if (correction) {
        const drift = certificate?.body.drift.find(({ quantity }) => quantity === reading.quantity)
        add(`calibration ${name}`, correction.u * slope)
        add(`interpolation ${name}`, (correction.missed / Math.sqrt(3)) * slope)
        add(`drift ${name}`, ((drift ? si(drift.halfWidth) : stated(sensed, shown)) / Math.sqrt(3)) * slope)
      } else {
        const own = certificate?.body.uncertainty.find(({ quantity }) => quantity === reading.quantity)
        if (own) {
          const expanded = (own.expandedPercentOfReading / 100) * shown + si(own.expandedAbsolute)
          add(`calibration ${name}`, (expanded / own.coverageFactor) * slope)
        }
        add(`accuracy ${name}`, (stated(sensed, shown) / Math.sqrt(3)) * slope)
      }
      const exponent = way === 'duct_traverse' || way === 'flow_element' ? -0.5 : instrument.body.basis === 'standard' ? -1 : 0
      moved += (exponent * figure) / used.length
    }
    const slopes = sum(readings.map(({ slope }) => slope)) / used.length
    alone.push({ u: ((si(sensed.resolution) / 2 / Math.sqrt(3)) * slopes) as number, freedom: Number.POSITIVE_INFINITY })
  }
  if (moved !== 0) shared.set('density', moved * densityRelative(air, settings))
  if (way === 'face_grid') alone.push({ u: deviation(actual) / Math.sqrt(actual.length), freedom: actual.length - 1 })
  if (way === 'duct_traverse') alone.push({ u: (settings.traverseRulePercent / 100) * mean(actual), freedom: Number.POSITIVE_INFINITY })
  return { shared, alone }
}

/** Errors of a terminal's actual flow: the mean's through the area, with the area's own, the hood's factor and the flow element's own. */
export function flowErrors(terminal: TerminalFigures, setting: Setting): Errors {
  const { way, actual, areaM2, body, id, used } = terminal
  const ofMean = meanErrors(terminal, setting)
  const through = way === 'face_grid' || way === 'duct_traverse' ? areaM2 : 1
  const flow = mean(actual) * through
  const { shared, alone } = scaled(ofMean, through)
  const more = new Map(shared)
  if (through !== 1) {
    const size = [body.grossWidth, body.grossDepth, body.effectiveArea].map(({ typed }) => typed).join(' ')
    more.set(`area ${size} ${setting.modelOf(id)}`, flow * half(setting.settings.areaPercent))
  }
  const [first] = used
  if (way === 'hood' && first) {
    const instrument = setting.instruments.get(first.reading.instrumentId)
    const percents = used.map(({ shown }) => (instrument ? hoodEntry(instrument, body.face, shown)?.percent : null))
    more.set(`hood ${body.face}`, flow * half(Math.max(...percents.map((percent) => percent ?? setting.settings.hoodFactorPercent))))
  }
  const element = way === 'flow_element' ? body.flowElement : null
  if (!element) return { shared: more, alone }
  const u = flow * half(element.uncertaintyPercent ?? setting.settings.flowElementPercent)
  return { shared: more, alone: [...alone, { u, freedom: Number.POSITIVE_INFINITY }] }
}

export function scaled({ shared, alone }: Errors, by: number): Errors {
  return {
    shared: new Map([...shared].map(([group, u]) => [group, u * by])),
    alone: alone.map(({ u, freedom }) => ({ u: u * by, freedom })),
  }
}

export function added(parts: readonly Errors[]): Errors {
  const shared = new Map<string, number>()
  for (const part of parts) for (const [group, u] of part.shared) shared.set(group, (shared.get(group) ?? 0) + u)
  return { shared, alone: parts.flatMap(({ alone }) => alone) }
}

export function withVolume(flow: Errors, volumeM3: number, perHour: number, settings: Settings): Errors {
  const { shared, alone } = scaled(flow, 3600 / volumeM3)
  return { shared, alone: [...alone, { u: perHour * half(settings.volumePercent), freedom: Number.POSITIVE_INFINITY }] }
}

export function expanded({ shared, alone }: Errors, levelPercent: number): { U: number; k: number } {
  const variance = sum([...shared.values()].map((u) => u ** 2)) + sum(alone.map(({ u }) => u ** 2))
  const limited = sum(alone.map(({ u, freedom }) => u ** 4 / freedom))
  const k = studentT(limited === 0 ? Number.POSITIVE_INFINITY : Math.floor(variance ** 2 / limited), levelPercent / 100)
  return { U: k * Math.sqrt(variance), k }
}

/** Student's t, two-sided, by integrating its density with Simpson's rule and halving the interval; above 200 by its expansion about the normal. */
function studentT(freedom: number, level: number): number {
  if (level !== 0.95) throw new Error('The second evaluator knows the level of 95 % alone.')
  const z = 1.959963984540054
  if (freedom > 200) {
    const expansion = [
      z,
      (z ** 3 + z) / 4,
      (5 * z ** 5 + 16 * z ** 3 + 3 * z) / 96,
      (3 * z ** 7 + 19 * z ** 5 + 17 * z ** 3 - 15 * z) / 384,
    ]
    return sum(expansion.map((term, power) => term / freedom ** power))
  }
  let constant = freedom % 2 === 1 ? 1 / Math.PI : 1 / (2 * Math.SQRT2)
  for (let n = freedom % 2 === 1 ? 1 : 2; n < freedom; n += 2) constant *= ((n + 1) / n) * Math.sqrt(n / (n + 2))
  const density = (x: number) => constant * (1 + x ** 2 / freedom) ** (-(freedom + 1) / 2)
  const within = (to: number) => {
    const steps = 400
    const width = to / steps
    let total = density(0) + density(to)
    for (let i = 1; i < steps; i += 1) total += (i % 2 === 1 ? 4 : 2) * density(i * width)
    return (2 * total * width) / 3
  }
  let [low, high] = [0, 20]
  for (let i = 0; i < 60; i += 1) {
    const middle = (low + high) / 2
    if (within(middle) < level) low = middle
    else high = middle
  }
  return (low + high) / 2
}
