import type { Unit } from '#core/model/values.ts'

/** A spelling's unit, and how many of it one of the spelling is (1 ft/s is 60 ft/min). */
export type Spelling = { readonly unit: Unit; readonly times: number }

/** The spellings of each unit, in lower case and without spaces or points. */
export const SPELLINGS: Readonly<Record<Unit, readonly string[]>> = {
  'm/s': ['m/s', 'mps', 'm/sec', 'ms-1', 'meterspersecond', 'metrespersecond'],
  'ft/min': ['ft/min', 'fpm', 'feet/min', 'feet/minute', 'ft/minute', 'lfpm', 'feetperminute', 'ftpm'],
  'm3/s': ['m3/s', 'cms', 'm3/sec', 'cum/s', 'm3s-1', 'cubicmetrespersecond', 'cubicmeterspersecond'],
  'm3/h': ['m3/h', 'cmh', 'm3/hr', 'm3/hour', 'cum/h', 'cbm/h', 'm3h-1', 'cubicmetresperhour', 'cubicmetersperhour'],
  'L/s': ['l/s', 'lps', 'l/sec', 'litrespersecond', 'literspersecond', 'ls-1'],
  cfm: ['cfm', 'ft3/min', 'cuft/min', 'ft3/minute', 'cubicfeetperminute'],
  m: ['m', 'metre', 'metres', 'meter', 'meters'],
  mm: ['mm', 'millimetre', 'millimetres', 'millimeter', 'millimeters'],
  ft: ['ft', 'foot', 'feet', "'"],
  in: ['in', 'inch', 'inches', '"', "''"],
  m2: ['m2', 'sqm', 'qm', 'squaremetres', 'squaremeters'],
  ft2: ['ft2', 'sqft', 'sf', 'squarefeet'],
  m3: ['m3', 'cum', 'cbm', 'cubicmetres', 'cubicmeters'],
  ft3: ['ft3', 'cuft', 'cf', 'cubicfeet'],
  Pa: ['pa', 'pascal', 'pascals'],
  hPa: ['hpa', 'mbar', 'mb', 'hectopascal', 'hectopascals'],
  kPa: ['kpa', 'kilopascal', 'kilopascals'],
  inHg: ['inhg', 'inofmercury', 'inchesofmercury', 'inmercury', '"hg'],
  inH2O: [
    'inh2o',
    'inwg',
    'inwc',
    'iwg',
    'iwc',
    'inw',
    '"wg',
    '"wc',
    '"h2o',
    'inwater',
    'inofwater',
    'inchesofwater',
    'inchesh2o',
    'inwatergauge',
  ],
  degC: ['°c', 'c', 'degc', 'celsius', 'degreescelsius'],
  degF: ['°f', 'f', 'degf', 'fahrenheit', 'degreesfahrenheit'],
  '%': ['%', 'percent', 'pct', '%rh', 'rh'],
  '1/h': ['1/h', '/h', 'h-1', 'ach', '/hr', '1/hr', 'perhour', 'ac/h', 'airchanges/h', 'airchangesperhour', 'airchanges'],
  s: ['s', 'sec', 'secs', 'second', 'seconds'],
  min: ['min', 'mins', 'minute', 'minutes'],
}

/** Units that people write and that are kept as multiples of one of ours. */
const MULTIPLES: readonly (readonly [string, Unit, number])[] = [
  ['cm', 'm', 0.01],
  ['ft/s', 'ft/min', 60],
  ['fps', 'ft/min', 60],
  ['m/min', 'm/s', 1 / 60],
  ['m3/min', 'm3/s', 1 / 60],
  ['l/min', 'L/s', 1 / 60],
  ['h', 's', 3600],
  ['hour', 's', 3600],
  ['hours', 's', 3600],
]

const BY_SPELLING: ReadonlyMap<string, Spelling> = new Map<string, Spelling>([
  // Object.entries widens the keys to string; the keys of SPELLINGS are units by its type.
  ...(Object.entries(SPELLINGS) as [Unit, readonly string[]][]).flatMap(([unit, spellings]) =>
    spellings.map((spelling): [string, Spelling] => [spelling, { unit, times: 1 }]),
  ),
  ...MULTIPLES.map(([spelling, unit, times]): [string, Spelling] => [spelling, { unit, times }]),
])

/**
 * The unit that a written suffix means, without regard to case, spaces, points or raised digits ("ft/min", "FPM", "m³/h",
 * "in. w.g."); null when it means none that the program knows. Expects text in Unicode form NFKC.
 */
export function spelledUnit(suffix: string): Spelling | null {
  return (
    BY_SPELLING.get(
      suffix
        .toLowerCase()
        .replace(/[\s.^·]/g, '')
        .replace('−', '-'),
    ) ?? null
  )
}
