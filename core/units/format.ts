import { keepsHigh, reachesLow } from '#core/criteria/compare-limit.ts'
import type { Dimension, Entered, Unit } from '#core/model/values.ts'
import type { BandRelation, DisplayUnits, FormatOptions, Formatter } from './formatter.ts'
import { namesItsUnit } from './parse.ts'
import { fromSi, fromSiDifference, unitLabel } from './units.ts'

const NOTHING = '—'
const NO_BREAK_SPACE = '\u00a0'
const THIN_NO_BREAK_SPACE = '\u202f'
const MINUS = '\u2212'

/** Decimals shown by default: as many as the instruments of the trade resolve, and no more. `most` only where sizes need it. */
const DECIMALS: Readonly<Record<Unit, { readonly least: number; readonly most: number }>> = {
  'm/s': { least: 2, most: 2 },
  'ft/min': { least: 0, most: 0 },
  'm3/s': { least: 3, most: 3 },
  'm3/h': { least: 0, most: 0 },
  'L/s': { least: 1, most: 1 },
  cfm: { least: 0, most: 0 },
  m: { least: 2, most: 3 },
  mm: { least: 0, most: 0 },
  ft: { least: 2, most: 2 },
  in: { least: 2, most: 2 },
  m2: { least: 3, most: 3 },
  ft2: { least: 2, most: 2 },
  m3: { least: 1, most: 1 },
  ft3: { least: 0, most: 0 },
  Pa: { least: 1, most: 1 },
  hPa: { least: 1, most: 1 },
  kPa: { least: 2, most: 2 },
  inH2O: { least: 3, most: 3 },
  inHg: { least: 2, most: 2 },
  degC: { least: 1, most: 1 },
  degF: { least: 1, most: 1 },
  '%': { least: 1, most: 1 },
  '1/h': { least: 1, most: 1 },
  s: { least: 0, most: 1 },
  min: { least: 0, most: 1 },
}

const MOST_DECIMALS = 12
/** Source: GUM (JCGM 100:2008) 7.2.6, at most two significant digits. */
const UNCERTAINTY_DIGITS = 2

/** The unit that a project shows a dimension in. */
export function displayUnit(dimension: Dimension, display: DisplayUnits): Unit {
  switch (dimension) {
    case 'velocity':
      return display.velocity
    case 'flow':
      return display.flow
    case 'length':
      return display.length
    case 'area':
      return display.length === 'm' ? 'm2' : 'ft2'
    case 'volume':
      return display.length === 'm' ? 'm3' : 'ft3'
    case 'pressure':
      return display.pressure
    case 'temperature':
      return display.temperature
    case 'percent':
      return '%'
    case 'air_change_rate':
      return '1/h'
    case 'duration':
      return 's'
  }
}

function shownIn(si: number, unit: Unit, { difference }: FormatOptions): number {
  return difference ? fromSiDifference(si, unit) : fromSi(si, unit)
}

const STANDS: { readonly [R in BandRelation]: (distance: number, band: number) => boolean } = {
  closer: (distance, band) => distance < band,
  no_closer: (distance, band) => distance >= band,
  beyond: (distance, band) => distance > band,
}

/** Below, on or above a limit, as the verdict sees it. */
function order(value: number, limit: number): -1 | 0 | 1 {
  if (!reachesLow(value, limit)) return -1
  return keepsHigh(value, limit) ? 0 : 1
}

/**
 * A formatter for one reader: the project's display units, the reader's locale (BCP 47), the site's IANA zone. Numbers have the
 * locale's decimal sign, a typographic minus, and a thin space between groups of three from five digits on (SI brochure 5.4.4:
 * never a comma or point, which a reader of another locale would take for the decimal sign). Number and unit are joined by a
 * no-break space. Lengths shown in feet read as feet and inches. Missing values and NaN read as an em dash. A zone or locale
 * that the system does not know is replaced by UTC or English, and times then say UTC.
 */
export function createFormatter(display: DisplayUnits, locale: string, timeZone: string): Formatter {
  const knownLocale = isKnownLocale(locale) ? locale : 'en'
  const knownZone = isKnownZone(timeZone)
  const numberFormats = new Map<string, Intl.NumberFormat>()

  function numberFormat(least: number, most: number, forLocale: string): Intl.NumberFormat {
    const key = `${least} ${most} ${forLocale}`
    const known = numberFormats.get(key)
    if (known) return known
    const made = new Intl.NumberFormat(forLocale, {
      minimumFractionDigits: least,
      maximumFractionDigits: most,
      numberingSystem: 'latn',
      signDisplay: 'negative',
      useGrouping: 'min2',
    })
    numberFormats.set(key, made)
    return made
  }

  function printed(value: number, least: number, most: number): string {
    return numberFormat(least, most, knownLocale)
      .formatToParts(value)
      .map((part) => (part.type === 'minusSign' ? MINUS : part.type === 'group' ? THIN_NO_BREAK_SPACE : part.value))
      .join('')
  }

  /** The number that the printed digits say, by the same rounding. */
  function asRead(value: number, digits: number): number {
    const parts = numberFormat(digits, digits, 'en').formatToParts(value)
    return Number(parts.map((part) => (part.type === 'group' ? '' : part.value)).join(''))
  }

  function number(si: number | null, dimension: Dimension, options: FormatOptions = {}): string {
    if (si === null || Number.isNaN(si)) return NOTHING
    const unit = options.unit ?? displayUnit(dimension, display)
    const { least, most } = options.digits === undefined ? DECIMALS[unit] : { least: options.digits, most: options.digits }
    const digits = digitsBeside(si, most, unit, options)
    return printed(shownIn(si, unit, options), Math.max(least, digits > most ? digits : least), digits)
  }

  /** `least` decimals, or as many more as it takes that the printed figure lies on the side of each limit that it is on. */
  function digitsBeside(si: number, least: number, unit: Unit, options: FormatOptions): number {
    const value = shownIn(si, unit, options)
    let digits = least
    for (const limitSi of options.heldAgainst ?? []) {
      const limit = shownIn(limitSi, unit, options)
      const relation = order(si, limitSi)
      // Beside a limit that is written with more digits than the figure, the limit as it stands decides.
      const agrees = (at: number) => order(asRead(value, at), limit) === relation || relation === 0
      let enough = digits
      while (enough < MOST_DECIMALS && !agrees(enough)) enough += 1
      if (agrees(enough)) digits = enough
    }
    return digits
  }

  function feetAndInches(si: number): string {
    const tenths = Math.round(Math.abs(fromSi(si, 'in')) * 10)
    const feet = Math.floor(tenths / 120)
    const sign = si < 0 && tenths > 0 ? MINUS : ''
    return `${sign}${printed(feet, 0, 0)}′${NO_BREAK_SPACE}${printed((tenths - feet * 120) / 10, 0, 1)}″`
  }

  function quantity(si: number | null, dimension: Dimension, options: FormatOptions = {}): string {
    if (si === null || Number.isNaN(si)) return NOTHING
    const unit = options.unit ?? displayUnit(dimension, display)
    if (unit === 'ft' && options.digits === undefined) return feetAndInches(si)
    return `${number(si, dimension, options)}${NO_BREAK_SPACE}${unitLabel(unit)}`
  }

  function against(si: number, limitSi: number, dimension: Dimension, options: FormatOptions = {}): { value: string; limit: string } {
    const unit = options.unit ?? displayUnit(dimension, display)
    const value = shownIn(si, unit, options)
    const limit = shownIn(limitSi, unit, options)
    const relation = order(si, limitSi)
    const agrees = (digits: number) => Math.sign(asRead(value, digits) - asRead(limit, digits)) === relation
    const usual = DECIMALS[unit].most
    // A limit written with a digit more than usual (0.375 m/s) is shown as written; more digits than that nobody measures.
    const own = [usual, usual + 1].find((digits) => order(asRead(limit, digits), limit) === 0) ?? usual
    let digits = own
    while (digits < MOST_DECIMALS && !agrees(digits)) digits += 1
    // No number of digits tells them apart that anybody would read.
    if (!agrees(digits)) digits = own
    const unitText = `${NO_BREAK_SPACE}${unitLabel(unit)}`
    return { value: printed(value, digits, digits) + unitText, limit: printed(limit, digits, digits) + unitText }
  }

  /** The last place that an uncertainty is stated to, as a power of ten in the display unit: two significant digits. */
  function lastPlace(expandedSi: number, dimension: Dimension): number {
    const unit = displayUnit(dimension, display)
    const size = Math.abs(fromSiDifference(expandedSi, unit))
    if (!(size >= 10 ** -MOST_DECIMALS)) return -DECIMALS[unit].most
    const rounded = Number(size.toPrecision(UNCERTAINTY_DIGITS))
    return Math.max(-MOST_DECIMALS, Math.floor(Math.log10(rounded)) + 1 - UNCERTAINTY_DIGITS)
  }

  function toPlace(si: number, dimension: Dimension, place: number, convert: typeof fromSi = fromSi): string {
    const value = convert(si, displayUnit(dimension, display))
    if (place <= 0) return printed(value, -place, -place)
    const step = 10 ** place
    return printed(Math.round(value / step) * step, 0, 0)
  }

  function uncertainty(si: number, dimension: Dimension): string {
    return `${toPlace(si, dimension, lastPlace(si, dimension), fromSiDifference)}${NO_BREAK_SPACE}${unitLabel(displayUnit(dimension, display))}`
  }

  function distanceAndBand(distanceSi: number, bandSi: number, dimension: Dimension, relation: BandRelation) {
    const unit = displayUnit(dimension, display)
    const distance = fromSiDifference(distanceSi, unit)
    const band = fromSiDifference(bandSi, unit)
    const place = lastPlace(bandSi, dimension)
    const step = 10 ** Math.max(0, place)
    const usual = against(distanceSi, 0, dimension, { difference: true }).value
    const readUsual = asRead(distance, DECIMALS[unit].most)
    const readBand = place <= 0 ? asRead(band, -place) : Math.round(band / step) * step
    if (readUsual !== 0 && STANDS[relation](readUsual, readBand)) return { distance: usual, band: uncertainty(bandSi, dimension) }
    let digits = Math.max(DECIMALS[unit].most, -place)
    while (digits < MOST_DECIMALS && !STANDS[relation](asRead(distance, digits), asRead(band, digits))) digits += 1
    const unitText = `${NO_BREAK_SPACE}${unitLabel(unit)}`
    return { distance: printed(distance, digits, digits) + unitText, band: printed(band, digits, digits) + unitText }
  }

  const plainDate = new Intl.DateTimeFormat(knownLocale, { dateStyle: 'medium', timeZone: 'UTC' })
  const instantDate = new Intl.DateTimeFormat(knownLocale, { dateStyle: 'medium', timeZone: knownZone ? timeZone : 'UTC' })
  const instantTime = new Intl.DateTimeFormat(knownLocale, {
    year: 'numeric',
    month: 'short',
    day: 'numeric',
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
    timeZone: knownZone ? timeZone : 'UTC',
  })

  /** Text that is no date is shown as it stands, so that a damaged entry can still be read. */
  function dated(text: string, format: Intl.DateTimeFormat): string {
    const at = new Date(/^\d{4}-\d{2}-\d{2}$/.test(text) ? `${text}T00:00:00.000Z` : text)
    return Number.isNaN(at.getTime()) ? text : format.format(at)
  }

  return {
    quantity,
    number,
    unit: (dimension, unit) => unitLabel(unit ?? displayUnit(dimension, display)),
    against,
    uncertainty,
    plusMinus: (si, expandedSi, dimension, options = {}) => {
      const place = lastPlace(expandedSi, dimension)
      const unit = displayUnit(dimension, display)
      const digits = digitsBeside(si, Math.max(0, -place), unit, options)
      // Tens and hundreds are rounded to only where that contradicts no limit.
      const coarse = Math.round(fromSi(si, unit) / 10 ** place) * 10 ** place
      const isCoarse = place > 0 && (options.heldAgainst ?? []).every((limit) => order(coarse, fromSi(limit, unit)) === order(si, limit))
      const figure = isCoarse ? toPlace(si, dimension, place) : toPlace(si, dimension, -digits)
      return `${figure} ± ${uncertainty(expandedSi, dimension)}`
    },
    distanceAndBand,
    decimal: (value, digits) => (Number.isFinite(value) ? printed(value, digits, digits) : NOTHING),
    significant: (value, digits) => (Number.isFinite(value) ? printed(Number(value.toPrecision(digits)), 0, MOST_DECIMALS) : NOTHING),
    date: (value) => dated(value, /^\d{4}-\d{2}-\d{2}$/.test(value) ? plainDate : instantDate),
    dateTime: (instant) => dated(instant, instantTime) + (knownZone ? '' : ' UTC'),
  }
}

function isKnownLocale(locale: string): boolean {
  try {
    return Intl.NumberFormat.supportedLocalesOf(locale).length > 0
  } catch {
    return false
  }
}

/** Whether the system knows the IANA time zone. */
export function isKnownZone(timeZone: string): boolean {
  try {
    return new Intl.DateTimeFormat('en', { timeZone }).resolvedOptions().timeZone !== ''
  } catch {
    return false
  }
}

/** What a person typed, as it reads on a page: the text itself, with its unit where the text does not name one. */
export function enteredText(entered: Entered): string {
  return namesItsUnit(entered) ? entered.typed.trim() : `${entered.typed.trim()}${NO_BREAK_SPACE}${unitLabel(entered.unit)}`
}
