import { DateTime } from 'luxon'

/** Ways in which loggers write a time, the likeliest first; the empty one is ISO 8601. */
export const TIME_FORMATS = [
  '',
  'dd.MM.yyyy HH:mm:ss',
  'dd.MM.yyyy HH:mm',
  'd.M.yyyy H:mm:ss',
  'd.M.yyyy H:mm',
  'yyyy/MM/dd HH:mm:ss',
  'yyyy/MM/dd HH:mm',
  'dd/MM/yyyy HH:mm:ss',
  'MM/dd/yyyy HH:mm:ss',
  'dd/MM/yyyy HH:mm',
  'MM/dd/yyyy HH:mm',
  'M/d/yyyy h:mm:ss a',
  'd/M/yyyy h:mm:ss a',
  'M/d/yyyy h:mm a',
  'd/M/yyyy h:mm a',
  'dd-MM-yyyy HH:mm:ss',
  'MM-dd-yyyy HH:mm:ss',
  'dd.MM.yy HH:mm:ss',
] as const

function read(text: string, format: string, timeZone: string): DateTime {
  return format === ''
    ? DateTime.fromISO(text.replace(' ', 'T'), { zone: timeZone })
    : DateTime.fromFormat(text, format, { zone: timeZone, locale: 'en' })
}

/**
 * The formats that every one of these times can be read in, as luxon writes them ('' for ISO 8601). More than one where day and month
 * cannot be told apart: then a person has to choose. Empty texts are passed over.
 */
export function fittingFormats(times: readonly string[]): string[] {
  const given = times.filter((time) => time.trim() !== '')
  if (given.length === 0) return []
  return TIME_FORMATS.filter((format) => given.every((time) => read(time.trim(), format, 'utc').isValid))
}

/**
 * How these times are most likely written: a format, the empty one for ISO 8601 and where none fits; or null where two formats fit and read
 * another day out of one of them, so that only a person can tell day from month.
 */
export function proposedFormat(times: readonly string[]): string | null {
  const [likeliest, ...others] = fittingFormats(times)
  if (likeliest === undefined) return ''
  const given = times.map((time) => time.trim()).filter((time) => time !== '')
  const differs = (format: string) => given.some((time) => read(time, format, 'utc').toMillis() !== read(time, likeliest, 'utc').toMillis())
  return others.some(differs) ? null : likeliest
}

/** What a text says of its time: a moment with its own zone, a local time, or a day alone; null for a time of no day. */
export type TimeKind = 'zoned' | 'local' | 'day'
const OWN_ZONE = /[T ].*(?:z|[+-]\d{2}(?::?\d{2})?)$/i
const NO_DAY = /^T?\d{1,2}:/i

/** In which way a text of this format tells its time. Times of two ways in one file cannot be put in order. */
export function kindOfTime(text: string, format: string): TimeKind | null {
  if (format !== '') return 'local'
  if (NO_DAY.test(text)) return null
  if (OWN_ZONE.test(text)) return 'zoned'
  return text.includes(':') || /[T ]\d/.test(text) ? 'local' : 'day'
}

/** Clocks are put back by whole quarters of an hour. */
const QUARTER_MS = 900_000

/** Minutes that are remembered before the memory starts afresh. */
const MOST_REMEMBERED = 5000
const SECONDS = /^(.*\d:\d\d:)(\d\d)((?:[.,]\d{1,3})?)$/

/**
 * Reads the times of one file, in the site's zone unless a time names its own. Answers milliseconds since 1970 UTC, or null for a text
 * that is no time in this format. A time that the site's clocks left out, in the hour put forward, is taken as luxon takes it.
 */
export class TimeReader {
  readonly #format: string
  readonly #timeZone: string
  readonly #minutes = new Map<string, number | null>()
  readonly #twice = new Map<number, boolean>()

  constructor(format: string, timeZone: string) {
    this.#format = format
    this.#timeZone = timeZone
  }

  read(text: string): number | null {
    // Rows of a logger follow each other by seconds: each minute is worked out once. No zone changes within a minute.
    const parts = this.#format === '' || this.#format.endsWith(':ss') ? SECONDS.exec(text) : null
    const [, start, seconds, fraction] = parts ?? []
    if (start === undefined || seconds === undefined || Number(seconds) > 59 || (fraction && this.#format !== ''))
      return this.#remembered(text)
    const minute = this.#remembered(`${start}00`)
    return minute === null ? null : minute + Number(seconds) * 1000 + Math.round(Number(`0.${(fraction ?? '').slice(1) || '0'}`) * 1000)
  }

  /** Whether the clocks of the site showed this local time twice, in the hour put back. */
  comesTwice(atMs: number): boolean {
    const quarter = Math.floor(atMs / QUARTER_MS)
    const known = this.#twice.get(quarter)
    if (known !== undefined) return known
    const twice = DateTime.fromMillis(atMs, { zone: this.#timeZone }).getPossibleOffsets().length > 1
    this.#twice.set(quarter, twice)
    return twice
  }

  #remembered(text: string): number | null {
    const known = this.#minutes.get(text)
    if (known !== undefined) return known
    const time = read(text, this.#format, this.#timeZone)
    const atMs = time.isValid ? time.toMillis() : null
    if (this.#minutes.size >= MOST_REMEMBERED) this.#minutes.clear()
    this.#minutes.set(text, atMs)
    return atMs
  }
}
