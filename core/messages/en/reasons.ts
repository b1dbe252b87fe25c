import type { Gap } from '#core/criteria/judge.ts'
import { decimalsOf } from '#core/criteria/limit-digits.ts'
import type { JudgedFigure, ReleasedUse, Remarks, Stance, UncoveredUse } from '#core/criteria/stance.ts'
import type { Dimension, MeasuringPlane, Unit } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { fromSi } from '#core/units/units.ts'
import { ended } from '../words.ts'
import { history } from './history.ts'
import { results } from './results.ts'

// Codes, dates and units travel inside objects, never as bare text parameters: those are names that people gave.

type Titled = { title: string; source: string }
type Judged = Titled & { met: boolean; figure: JudgedFigure; stance: Stance; remarks: Remarks }

const PLANE: Readonly<Record<MeasuringPlane['kind'], string>> = { filter_face: 'at the filter face', working_height: 'at working height' }
const BASIS: Readonly<Record<Stance['basis'], string>> = { as_indicated: 'as indicated', standard: 'standard air', actual: 'actual air' }
const ACCEPTANCE: Readonly<Record<Stance['acceptance'], string>> = {
  simple: 'simple acceptance',
  guarded: 'guarded acceptance',
  simple_for_spread: 'simple acceptance, since a spread has no expanded uncertainty',
}
const OF: Readonly<Record<NonNullable<JudgedFigure['relative']>['to'], string>> = {
  design: 'the design value',
  filter_mean: "the filter's mean",
  zone_mean: "the zone's mean",
}
const CAUSE: Readonly<Record<NonNullable<Gap['cause']>, string>> = {
  inaccessible: 'recorded as inaccessible',
  obstructed: 'recorded as obstructed',
  not_in_operation: 'recorded as not in operation',
  other: 'left out with a written reason',
}

function several(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`
}

function plain(value: number): string {
  return String(Number(value.toPrecision(6)))
}

function above(si: number, dimension: Dimension, f: Formatter): string {
  return f.against(Math.abs(si), 0, dimension).value
}

/** The decision rule, basis, plane and source that every verdict names. */
function standing(stance: Stance, source: string): string {
  const how = stance.rounded ? "rounded to the limit's digits" : 'compared unrounded'
  const own = stance.override === null ? '' : ` This place has its own limit: ${ended(stance.override)}`
  return `Figures ${BASIS[stance.basis]}, ${PLANE[stance.plane]}; ${how}, ${ACCEPTANCE[stance.acceptance]}.${own} Source: ${source}`
}

function limitWords(figure: JudgedFigure, compared: number, value: string, side: string, f: Formatter): string {
  const { low, high, dimension } = figure
  const other = (si: number) => f.against(compared, si, dimension).limit
  if (low !== null && high !== null)
    return figure.side === 'high' ? `${value} against ${other(low)} to ${side}` : `${value} against ${side} to ${other(high)}`
  return low !== null ? `${value} against at least ${side}` : `${value} against at most ${side}`
}

function writtenAs(figure: JudgedFigure, limit: number, f: Formatter): string {
  if (figure.relative || f.unit(figure.dimension) === f.unit(figure.dimension, figure.unit)) return ''
  return ` (the limit is written as ${inFull(limit, figure, f)})`
}

/** A limit in the unit it was written in, with every decimal that it has there. */
function inFull(limit: number, { dimension, unit }: JudgedFigure, f: Formatter): string {
  const decimals = decimalsOf(fromSi(limit, unit))
  // Up to two decimals more than usual are shown by themselves where a limit is set against something.
  return decimals > 2 ? f.quantity(limit, dimension, { unit, digits: decimals }) : f.against(limit, limit, dimension, { unit }).limit
}

function relativeWords(figure: JudgedFigure, f: Formatter): string {
  const { relative, dimension } = figure
  if (!relative) return ''
  return `, which is ${plain(relative.percent)} % either way of ${OF[relative.to]} ${f.quantity(relative.si, dimension)}`
}

function comparison(figure: JudgedFigure, met: boolean, f: Formatter): string {
  const { dimension, margin } = figure
  const limit = figure.side === 'high' ? figure.high : figure.low
  if (limit === null) return f.quantity(figure.value, dimension)
  const compared = margin === 0 ? limit : (figure.rounded ?? figure.value)
  const shown = f.against(compared, limit, dimension)
  const unrounded =
    figure.rounded !== null && figure.rounded !== figure.value
      ? ` (${f.quantity(figure.value, dimension, { digits: 4 })} before rounding)`
      : ''
  const words = limitWords(figure, compared, shown.value + unrounded, shown.limit, f)
  const distance =
    margin === 0
      ? 'on the limit, which is allowed'
      : `${above(margin, dimension, f)} ${met ? 'inside' : figure.side === 'high' ? 'too high' : 'too low'}`
  return `${words}${relativeWords(figure, f)}${writtenAs(figure, limit, f)}; ${distance}`
}

function remarkWords(remarks: Remarks, f: Formatter): string {
  const reversed = remarks.reversed > 0 ? ` Air flowed the wrong way at ${several(remarks.reversed, 'point', 'points')}.` : ''
  const released = remarks.released.map((use) => ` ${releaseWords(use, f)}`).join('')
  return reversed + released
}

function usageWords(use: UncoveredUse, f: Formatter): string {
  const name = `${use.instrument} (${use.serialNumber})`
  if (use.kind === 'no_certificate') return `${name} has no calibration certificate`
  if (use.kind === 'before_certificate') return `${name} was used on ${f.date(use.on)}, before its certificate`
  return `${name} was used on ${f.date(use.on)}, past its calibration due date${use.dueOn ? ` of ${f.date(use.dueOn)}` : ''}`
}

function releaseWords(use: ReleasedUse, f: Formatter): string {
  const by =
    use.deviation === null
      ? `certificate ${use.certificate} later found it in tolerance`
      : `deviation ${use.deviation} (certificate ${use.certificate}) releases the readings`
  return `${usageWords(use, f)}; ${by}.`
}

function gapWords(gap: Gap): string {
  const left = gap.planned - gap.measured
  const more = gap.more > 0 ? ` and ${gap.more} more` : ''
  const where = gap.terminals.length > 0 ? ` (${gap.terminals.join(', ')}${more})` : ''
  if (left === 0) return `No point is laid out for some terminals${where}.`
  const range =
    gap.aboveRange > 0 ? ` ${several(gap.aboveRange, 'reading lies', 'readings lie')} above the range and counts as missing.` : ''
  const cause = gap.cause ? ` Missing: ${CAUSE[gap.cause]}.` : ''
  return `${several(left, 'point of', 'points of')} ${gap.planned} ${left === 1 ? 'has' : 'have'} no valid reading${where}.${range}${cause}`
}

function judgedWords(p: Judged, f: Formatter): string {
  return `${p.title}: ${comparison(p.figure, p.met, f)}.${remarkWords(p.remarks, f)} ${standing(p.stance, p.source)}`
}

/** A reason within another one. */
function said(sentence: { code: string; params: unknown }, f: Formatter): string {
  // Reasons take parameters of their own kind; the code picks the function that fits them, as in say().
  const template = (reasons as unknown as Record<string, ((p: never, f: Formatter) => string) | undefined>)[sentence.code]
  return template ? template(sentence.params as never, f) : sentence.code
}

/** Why a verdict reads as it does. */
export const reasons = {
  ...results,
  ...history,
  'reason.judged': judgedWords,
  'reason.worst_point': (p: { point: number; met: boolean; judged: { code: string; params: unknown } }, f: Formatter) =>
    // The judgement inside is always one made by `judgedReason`.
    `Point ${p.point} is ${p.met ? 'the nearest to a limit' : 'the farthest outside'}. ${judgedWords(p.judged.params as Judged, f)}`,
  'reason.not_valid': (
    p: Titled & { uses: readonly UncoveredUse[]; outcome: { would: 'pass' | 'fail' | null }; otherwise: { code: string; params: unknown } },
    f: Formatter,
  ) => {
    const uses = p.uses.map((use) => usageWords(use, f)).join('; ')
    const would = p.outcome.would === null ? 'Otherwise it would read not tested.' : `Otherwise it would ${p.outcome.would}.`
    return `Not valid, because ${uses}; a later calibration that finds it in tolerance, or a numbered deviation, releases it. ${would} ${said(p.otherwise, f)}`
  },
  'reason.no_reading': (p: Titled) => `${p.title}: no valid reading yet. Source: ${p.source}`,
  'reason.incomplete': (p: Titled & { gap: Gap }) => `${p.title}: not complete. ${gapWords(p.gap)} Source: ${p.source}`,
  'reason.beyond_rescue': (
    p: Titled & { gap: Gap; figure: { least: number; high: number; dimension: Dimension; unit: Unit }; stance: Stance },
    f: Formatter,
  ) => {
    const shown = f.against(p.figure.least, p.figure.high, p.figure.dimension)
    return `${p.title}: whatever the missing readings are, it stays at ${shown.value} or more, above the limit of ${shown.limit}. ${gapWords(p.gap)} ${standing(p.stance, p.source)}`
  },
  'reason.apart': (
    p: Titled & { point: number; figure: { value: number; other: number; otherPoint: number; percent: number }; gap: Gap; stance: Stance },
    f: Formatter,
  ) =>
    `${p.title}: ${f.quantity(p.figure.value, 'velocity')} at point ${p.point} and ${f.quantity(p.figure.other, 'velocity')} at point ${p.figure.otherPoint} are too far apart for any mean to lie within ${plain(p.figure.percent)} % of both. ${gapWords(p.gap)} ${standing(p.stance, p.source)}`,
  'reason.reverse_flow': (p: Titled & { point: number; figure: { value: number }; stance: Stance }, f: Formatter) =>
    `${p.title}: air flows the wrong way at point ${p.point} (${f.quantity(p.figure.value, 'velocity')}). ${standing(p.stance, p.source)}`,
  'reason.mean_not_positive': (p: Titled & { stance: Stance }) =>
    `${p.title}: the mean flow is reversed or zero, so that no spread can be formed. ${standing(p.stance, p.source)}`,
  'reason.one_point': (p: Titled) => `${p.title}: a spread needs at least two points. Source: ${p.source}`,
  'reason.one_filter': (p: Titled) => `${p.title}: there is only one filter, and nothing to compare it with. Source: ${p.source}`,
  'reason.no_common_measure': (p: Titled) =>
    `${p.title}: the filters share no design value, and some have none to be a percentage of. Enter the missing design values. Source: ${p.source}`,
  'reason.no_design': (p: Titled) =>
    `${p.title}: there is no design value above zero to compare with. Enter it with the filter, zone or room. Source: ${p.source}`,
  'reason.no_volume': (p: Titled) => `${p.title}: the room has no volume above zero. Source: ${p.source}`,
  'reason.no_required_minimum': (p: Titled) =>
    `${p.title}: the room has no required minimum. Enter the air changes that your code or site asks for. Source: ${p.source}`,
  'reason.unfit': (p: Titled) => `${p.title}: the limit does not fit the quantity. Correct the criterion. Source: ${p.source}`,
  'reason.no_uncertainty': (p: Titled) =>
    `${p.title}: the criteria ask for guarded acceptance, and the uncertainty of this figure is not known. Source: ${p.source}`,
  'reason.below_range': (p: Titled) =>
    `${p.title}: the readings lie below the instrument's range; they can show that a lower limit is missed, never that this is met. Source: ${p.source}`,
  'reason.other_plane': (p: Titled & { planes: { wanted: MeasuringPlane['kind']; measured: MeasuringPlane['kind'] } }) =>
    `${p.title}: asks for readings ${PLANE[p.planes.wanted]}; these were taken ${PLANE[p.planes.measured]}. Source: ${p.source}`,
  'reason.switched_off': (p: Titled) => `${p.title}: an option that is switched off in the criteria set. Source: ${p.source}`,
  'reason.switched_off_here': (p: Titled & { because: string }) =>
    `${p.title}: switched off for this place: ${ended(p.because)} Source: ${p.source}`,
  'reason.closed': (p: Titled & { because: string }) =>
    `${p.title}: the terminal is closed: ${ended(p.because)} Its flow counts as zero in the room. Source: ${p.source}`,
  'reason.no_zone': (p: Titled) => `${p.title}: the filter belongs to no zone. Source: ${p.source}`,
  'reason.part_of_room': (p: Titled) =>
    `${p.title}: this run covers a zone, and the criterion is about the whole room. Source: ${p.source}`,
  'reason.no_such_figure': (p: Titled) => `${p.title}: this method gives no such figure here. Source: ${p.source}`,
}
