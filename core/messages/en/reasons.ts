import type { Gap } from '#core/criteria/judge.ts'
import type { PointPlace } from '#core/criteria/judge-points.ts'
import { decimalsOf } from '#core/criteria/limit-digits.ts'
import type { JudgedFigure, ReleasedUse, Remarks, Stance, UncoveredUse } from '#core/criteria/stance.ts'
import type { Dimension, MeasuringPlane, Unit } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { fromSi } from '#core/units/units.ts'
import { ended } from '../words.ts'
import { history } from './history.ts'
import { criterionName, type Held, results } from './results.ts'

// Codes, dates and units travel inside objects, never as bare text parameters: those are names that people gave.

type Titled = { title: string; source: string; stance?: Stance }
/** `point` is its number in the run; runs signed before places were told have that alone. */
type AtPoint = { point: number; place?: PointPlace }
/** The air that a criterion asks for. */
type Wanted = { wanted: { basis: Stance['basis'] } }
type Judged = Titled & { figure: JudgedFigure; stance: Stance; remarks: Remarks }
type Met = Judged & { met: boolean }

const PLANE: Readonly<Record<MeasuringPlane['kind'], string>> = { filter_face: 'at the filter face', working_height: 'at working height' }
const WAY: Readonly<Record<NonNullable<Stance['at']>['way'], string>> = {
  face_grid: 'at the face',
  hood: 'by a hood over the face',
  duct_traverse: 'by a traverse of the duct',
  flow_element: 'by the pressure over a flow element',
  mixed: 'each terminal measured in its own way',
}
const BASIS: Readonly<Record<Stance['basis'], string>> = { as_indicated: 'as indicated', standard: 'standard air', actual: 'actual air' }
const ACCEPTANCE: Readonly<Record<Stance['acceptance'], string>> = {
  simple: 'simple acceptance',
  guarded: 'guarded acceptance and rejection',
  simple_for_spread: 'simple acceptance, since a spread has no expanded uncertainty',
}
const OF: Readonly<Record<NonNullable<JudgedFigure['relative']>['to'], string>> = {
  design: 'the design value',
  filter_mean: "the filter's mean",
  zone_mean: "the zone's mean",
  open_faces_mean: "the mean of the zone's open faces",
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

/** A point as the technician counts it: along the way through its own filter, with its row and column. */
function pointWords(point: number, place: PointPlace | undefined): string {
  return place ? `${place.order} (row ${place.row}, column ${place.column})` : String(point)
}

function above(si: number, dimension: Dimension, f: Formatter): string {
  const shown = f.against(Math.abs(si), 0, dimension, { difference: true }).value
  return /[1-9]/.test(shown.replace(/\D*$/, '')) ? shown : 'less than can be shown'
}

/** The distance to the limit and the guard band, as the verdict compared them. */
function besideBand(
  { dimension, margin, certainty }: JudgedFigure,
  outcome: Outcome,
  f: Formatter,
): { distance: string; band: string } | null {
  const guardBand = certainty?.guardBand ?? null
  if (guardBand === null || !Number.isFinite(margin)) return null
  const relation = outcome === 'inconclusive' ? 'closer' : outcome === 'met' ? 'no_closer' : 'beyond'
  return f.distanceAndBand(Math.abs(margin), guardBand, dimension, relation)
}

/** Where the air was measured: the plane of the run, unless its terminals were measured in another way. */
function whereMeasured({ plane, at }: Pick<Stance, 'plane' | 'at'>): string {
  return at ? WAY[at.way] : PLANE[plane]
}

/** The decision rule by name, with the width of its guard band. */
function ruleWords(stance: Stance, f: Formatter): string {
  const band = stance.multiple === undefined || stance.multiple === 0 ? '' : `, guard band ${f.significant(stance.multiple, 6)} × U`
  return `${ACCEPTANCE[stance.acceptance]}${band}`
}

/** The source of a criterion that was not compared, after the rule that would decide it. */
function origin({ stance, source }: Titled, f: Formatter): string {
  return stance ? `Decision rule: ${ruleWords(stance, f)}. Source: ${source}` : `Source: ${source}`
}

/** The source of a criterion that does not apply, which no rule decides. */
function source(p: Titled): string {
  return `Source: ${p.source}`
}

/** The decision rule, basis, plane and source that every verdict names. */
function standing(stance: Stance, source: string, f: Formatter): string {
  const how = stance.rounded ? "rounded to the limit's digits" : 'compared unrounded'
  const own = stance.override === null ? '' : ` This place has its own limit: ${ended(stance.override)}`
  return `Figures ${BASIS[stance.basis]}, ${whereMeasured(stance)}; ${how}, ${ruleWords(stance, f)}.${own} Source: ${source}`
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
  const usual = f.against(limit, limit, dimension, { unit }).limit
  const asWritten = f.quantity(limit, dimension, { unit, digits: decimalsOf(fromSi(limit, unit)) })
  return asWritten.length > usual.length ? asWritten : usual
}

function relativeWords(figure: JudgedFigure, f: Formatter): string {
  const { relative, dimension } = figure
  if (!relative) return ''
  return `, which is ${f.significant(relative.percent, 6)} % either way of ${OF[relative.to]} ${f.quantity(relative.si, dimension)}`
}

/** How sure the figure is, and whether that leaves room to decide at all. */
function certaintyWords(figure: JudgedFigure, outcome: Outcome, f: Formatter): string {
  const { certainty, dimension } = figure
  if (!certainty) return ''
  const shown = besideBand(figure, outcome, f)
  const band = shown === null ? '' : `, guard band ${shown.band}`
  const undecidable = certainty.undecidable
    ? ' Twice the guard band is as wide as the limits are apart: this instrument cannot decide this limit.'
    : ''
  const expanded = f.uncertainty(certainty.expanded, dimension)
  return ` U = ${expanded} (k = ${f.decimal(certainty.coverageFactor, 2)})${band}.${undecidable}`
}

type Outcome = 'met' | 'not_met' | 'inconclusive'

function distanceWords(figure: JudgedFigure, outcome: Outcome, f: Formatter): string {
  const { dimension, margin, side } = figure
  if (margin === 0) return outcome === 'inconclusive' ? 'on the limit, too close to tell' : 'on the limit, which is allowed'
  const away = besideBand(figure, outcome, f)?.distance ?? above(margin, dimension, f)
  const outside = side === 'high' ? 'too high' : 'too low'
  if (outcome !== 'inconclusive') return `${away} ${outcome === 'met' ? 'inside' : outside}`
  return `${away} ${margin > 0 ? 'inside' : outside}, which is less than the guard band`
}

function comparison(figure: JudgedFigure, outcome: Outcome, f: Formatter): string {
  const { dimension, margin } = figure
  const limit = figure.side === 'high' ? figure.high : figure.low
  if (limit === null) return f.quantity(figure.value, dimension)
  const compared = margin === 0 ? limit : (figure.rounded ?? figure.value)
  const shown = f.against(compared, limit, dimension)
  const unrounded =
    figure.rounded !== null && figure.rounded !== figure.value
      ? ` (${f.against(figure.value, figure.rounded, dimension).value} before rounding)`
      : ''
  const words = limitWords(figure, compared, shown.value + unrounded, shown.limit, f)
  return `${words}${relativeWords(figure, f)}${writtenAs(figure, limit, f)}; ${distanceWords(figure, outcome, f)}`
}

function remarkWords(remarks: Remarks, f: Formatter): string {
  const reversed = remarks.reversed > 0 ? ` Air flowed the wrong way at ${several(remarks.reversed, 'point', 'points')}.` : ''
  const released = remarks.released.map((use) => ` ${releaseWords(use, f)}`).join('')
  const closedFaces = remarks.closedFaces ?? 0
  const open = closedFaces > 0 ? ` Of the open faces alone, ${several(closedFaces, 'closed one', 'closed ones')} left out.` : ''
  return open + reversed + released
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

function judgedAs(p: Judged, outcome: Outcome, f: Formatter): string {
  return `${criterionName(p)}: ${comparison(p.figure, outcome, f)}.${certaintyWords(p.figure, outcome, f)}${remarkWords(p.remarks, f)} ${standing(p.stance, p.source, f)}`
}

function judgedWords(p: Met, f: Formatter): string {
  return judgedAs(p, p.met ? 'met' : 'not_met', f)
}

function otherwiseWords({ would, inconclusive }: { would: 'pass' | 'fail' | null; inconclusive?: boolean }): string {
  if (would !== null) return `Otherwise it would ${would}.`
  return `Otherwise it would read ${inconclusive ? 'inconclusive' : 'not tested'}.`
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
  'reason.inconclusive': (p: Judged, f: Formatter) => `Inconclusive. ${judgedAs(p, 'inconclusive', f)}`,
  'reason.worst_point': (p: AtPoint & { met: boolean; judged: { code: string; params: unknown } }, f: Formatter) =>
    // The judgement inside is always one made by `judgedReason`.
    `Point ${pointWords(p.point, p.place)} is ${p.met ? 'the nearest to a limit' : 'the farthest outside'}. ${judgedWords(p.judged.params as Met, f)}`,
  'criterion.named': (p: Held) => criterionName(p),
  'reason.not_valid': (
    p: Titled & {
      uses: readonly UncoveredUse[]
      outcome: { would: 'pass' | 'fail' | null; inconclusive?: boolean }
      otherwise: { code: string; params: unknown }
    },
    f: Formatter,
  ) => {
    const uses = p.uses.map((use) => usageWords(use, f)).join('; ')
    const would = otherwiseWords(p.outcome)
    return `Not valid, because ${uses}; a later calibration that finds it in tolerance, or a numbered deviation, releases it. ${would} ${said(p.otherwise, f)}`
  },
  'reason.no_reading': (p: Titled, f: Formatter) => `${criterionName(p)}: no valid reading yet. ${origin(p, f)}`,
  'reason.incomplete': (p: Titled & { gap: Gap }, f: Formatter) => `${criterionName(p)}: not complete. ${gapWords(p.gap)} ${origin(p, f)}`,
  'reason.beyond_rescue': (
    p: Titled & { gap: Gap; figure: { least: number; high: number; dimension: Dimension; unit: Unit }; stance: Stance },
    f: Formatter,
  ) => {
    const shown = f.against(p.figure.least, p.figure.high, p.figure.dimension)
    return `${criterionName(p)}: whatever the missing readings are, it stays at ${shown.value} or more, above the limit of ${shown.limit}. ${gapWords(p.gap)} ${standing(p.stance, p.source, f)}`
  },
  'reason.apart': (
    p: Titled &
      AtPoint & {
        figure: { value: number; other: number; otherPoint: number; otherPlace?: PointPlace; percent: number }
        gap: Gap
        stance: Stance
      },
    f: Formatter,
  ) =>
    `${criterionName(p)}: ${f.quantity(p.figure.value, 'velocity')} at point ${pointWords(p.point, p.place)} and ${f.quantity(p.figure.other, 'velocity')} at point ${pointWords(p.figure.otherPoint, p.figure.otherPlace)} are too far apart for any mean to lie within ${f.significant(p.figure.percent, 6)} % of both. ${gapWords(p.gap)} ${standing(p.stance, p.source, f)}`,
  'reason.reverse_flow': (p: Titled & AtPoint & { figure: { value: number }; stance: Stance }, f: Formatter) =>
    `${criterionName(p)}: air flows the wrong way at point ${pointWords(p.point, p.place)} (${f.quantity(p.figure.value, 'velocity')}). ${standing(p.stance, p.source, f)}`,
  'reason.mean_not_positive': (p: Titled & { stance: Stance }, f: Formatter) =>
    `${criterionName(p)}: the mean flow is reversed or zero, so that no spread can be formed. ${standing(p.stance, p.source, f)}`,
  'reason.one_point': (p: Titled, f: Formatter) => `${criterionName(p)}: a spread needs at least two points. ${origin(p, f)}`,
  'reason.one_filter': (p: Titled, f: Formatter) =>
    `${criterionName(p)}: there is only one filter, and nothing to compare it with. ${origin(p, f)}`,
  'reason.no_common_measure': (p: Titled, f: Formatter) =>
    `${criterionName(p)}: the filters share no design value, and some have none to be a percentage of. Enter the missing design values. ${origin(p, f)}`,
  'reason.no_design': (p: Titled, f: Formatter) =>
    `${criterionName(p)}: there is no design value above zero to compare with. Enter it with the filter, zone or room. ${origin(p, f)}`,
  'reason.no_volume': (p: Titled, f: Formatter) => `${criterionName(p)}: the room has no volume above zero. ${origin(p, f)}`,
  'reason.no_required_minimum': (p: Titled, f: Formatter) =>
    `${criterionName(p)}: the room has no required minimum. Enter the air changes that your code or site asks for. ${origin(p, f)}`,
  'reason.unfit': (p: Titled, f: Formatter) =>
    `${criterionName(p)}: the limit does not fit the quantity. Correct the criterion. ${origin(p, f)}`,
  'reason.no_point_uncertainty': (p: Titled, f: Formatter) =>
    `${criterionName(p)}: the rule guards its limits by the expanded uncertainty, and none is given for a single point: how the air differs within the cell around it is seen from no reading, so that the instrument's part alone would promise too much. Judge the filter or the zone by the guarded rule, or the points by simple acceptance. ${origin(p, f)}`,
  'reason.no_uncertainty': (p: Titled, f: Formatter) =>
    `${criterionName(p)}: the criteria ask for guarded acceptance, and the uncertainty of this figure is not known. ${origin(p, f)}`,
  'reason.below_range': (p: Titled, f: Formatter) =>
    `${criterionName(p)}: the readings lie below the instrument's range; they can show that a lower limit is missed, never that this is met. ${origin(p, f)}`,
  'reason.other_plane': (p: Titled & { planes: { wanted: MeasuringPlane['kind']; measured: MeasuringPlane['kind'] } }) =>
    `${criterionName(p)}: asks for readings ${PLANE[p.planes.wanted]}; these were taken ${whereMeasured({ plane: p.planes.measured, ...(p.stance?.at ? { at: p.stance.at } : {}) })}. ${source(p)}`,
  'reason.switched_off': (p: Titled) => `${criterionName(p)}: an option that is switched off in the criteria set. ${source(p)}`,
  'reason.switched_off_here': (p: Titled & { because: string }) =>
    `${criterionName(p)}: switched off for this place: ${ended(p.because)} ${source(p)}`,
  'reason.closed': (p: Titled & { because: string }, f: Formatter) =>
    `${criterionName(p)}: the terminal is closed: ${ended(p.because)} Its flow counts as zero in the room. ${origin(p, f)}`,
  'reason.no_zone': (p: Titled, f: Formatter) => `${criterionName(p)}: the filter belongs to no zone. ${origin(p, f)}`,
  'reason.part_of_room': (p: Titled, f: Formatter) =>
    `${criterionName(p)}: this run covers a zone, and the criterion is about the whole room. ${origin(p, f)}`,
  'reason.no_conditions': (p: Titled & Wanted, f: Formatter) =>
    `${criterionName(p)}: asks for ${BASIS[p.wanted.basis]}, and the conditions of the run do not give its density. Record temperature and pressure (or the altitude of the site). ${origin(p, f)}`,
  'reason.no_standard_condition': (p: Titled & Wanted, f: Formatter) =>
    `${criterionName(p)}: asks for ${BASIS[p.wanted.basis]}, and the instrument states no standard condition. Enter its temperature and pressure with the instrument. ${origin(p, f)}`,
  'reason.standards_differ': (p: Titled & Wanted, f: Formatter) =>
    `${criterionName(p)}: asks for ${BASIS[p.wanted.basis]}, and the instruments state different standard conditions, so that their figures do not add up. Ask for actual air instead. ${origin(p, f)}`,
  'reason.basis_not_stated': (p: Titled & Wanted, f: Formatter) =>
    `${criterionName(p)}: asks for ${BASIS[p.wanted.basis]}, and it is not stated which air the instrument's display speaks of. Enter it with the instrument. ${origin(p, f)}`,
  'reason.no_supply': (p: Titled, f: Formatter) => `${criterionName(p)}: the room has no supply to take a percentage of. ${origin(p, f)}`,
  'reason.single_value': (p: Titled, f: Formatter) =>
    `${criterionName(p)}: the flow was measured as one value, which has no velocities over a face. ${origin(p, f)}`,
  'reason.duct_points': (p: Titled, f: Formatter) =>
    `${criterionName(p)}: the velocities were measured in the duct, and not at a face. ${origin(p, f)}`,
  'reason.not_a_filter': (p: Titled, f: Formatter) =>
    `${criterionName(p)}: speaks of filters; this is a grille or duct, of which only a design flow of its own can be asked. ${origin(p, f)}`,
  'reason.no_such_figure': (p: Titled, f: Formatter) => `${criterionName(p)}: this method gives no such figure here. ${origin(p, f)}`,
}
