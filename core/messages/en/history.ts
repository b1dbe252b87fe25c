import type { MethodId } from '#core/model/runs.ts'
import type { FlowWay } from '#core/model/terminals.ts'
import type { Basis, MeasuringPlane } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { type Failing, failingWords, results } from './results.ts'

type Nested = { code: string; params: Record<string, unknown> }
type Grid = { rows: number; columns: number }

const PLANE: Readonly<Record<MeasuringPlane['kind'], string>> = { filter_face: 'the filter face', working_height: 'working height' }

const BASIS: Readonly<Record<Basis, string>> = { as_indicated: 'as indicated', standard: 'of standard air', actual: 'of actual air' }
const WAY: Readonly<Record<FlowWay, string>> = {
  face_grid: 'by a grid of velocities',
  hood: 'by hood',
  duct_traverse: 'by a traverse of the duct',
  flow_element: 'by a flow element',
}

const BY_METHOD: Readonly<Record<MethodId, string>> = {
  face_velocity_grid: 'by the face velocities of its filters',
  room_airflow: 'by the air flow of the whole room',
  plane_velocity_grid: 'by the measuring plane of a zone',
}

/** The method that a figure of a room comes from, where more than one measured it. */
export function byMethod(method: MethodId): string {
  return BY_METHOD[method]
}

function several(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`
}

function percent(value: number, f: Formatter): string {
  return `${f.decimal(Math.abs(value), 1)} %`
}

type AirChangesFell = {
  thenPerHour: number
  nowPerHour: number
  percent: number
  /** U of both figures; null where one of the two has none */
  expanded: { before: number; now: number } | null
}

/** Whether the two figures lie farther apart than what is not known of them, by the root of the sum of the squares. */
function certaintyOfFall({ thenPerHour, nowPerHour, expanded }: AirChangesFell, f: Formatter): string {
  if (expanded === null) return ''
  const together = Math.hypot(expanded.before, expanded.now)
  if (thenPerHour - nowPerHour > together)
    return `: more than the uncertainty of the two explains (${f.uncertainty(together, 'air_change_rate')})`
  const [before, now] = [expanded.before, expanded.now].map((one) => f.uncertainty(one, 'air_change_rate'))
  return `: a change to look into, U was ${before} and is ${now}; errors that both visits share cancel in it`
}

/** A headline within another sentence. */
function said(sentence: Nested, f: Formatter): string {
  // Headlines take parameters of their own kind; the code picks the function that fits them, as in say().
  const all = { ...results, ...history } as unknown as Record<string, ((p: never, f: Formatter) => string) | undefined>
  const template = all[sentence.code]
  return template ? template(sentence.params as never, f) : sentence.code
}

/** What failed in a room, without saying again that it failed. */
function whatFailed(room: string, run: Nested, f: Formatter): string {
  // The parameters of a headline are those of its code.
  return run.code === 'headline.fail' ? `${failingWords(run.params as unknown as Failing, f, room)}.` : said(run, f)
}

/** A room that fails, and what of it; a headline that says something else stands as it is. */
function roomFails(room: string, run: Nested, f: Formatter): string {
  // A headline within another is always its `run`.
  const inner = () => run.params.run as Nested
  switch (run.code) {
    case 'headline.fail':
      return `${room} fails: ${whatFailed(room, run, f)}`
    case 'headline.open':
      return `Still open. ${roomFails(room, inner(), f)}`
    case 'headline.by_method':
      // A run's headline, and the method it was measured by.
      return `${roomFails(room, inner(), f)} So it is ${BY_METHOD[run.params.method as MethodId]}; the figures of the room come from its other run.`
    case 'headline.retested':
      return `${roomFails(room, inner(), f)} As left; it failed as found.`
    default:
      return `${room}: ${said(run, f)}`
  }
}

/** Rooms over their runs, what breaks a comparison, and what a comparison comes to. */
export const history = {
  'headline.no_run': (_p: Record<string, never>) => 'Not tested: no run has been started here.',
  'headline.zones_only': (p: { leftOut: { filters: number; criteria: number } }) => {
    const filters = p.leftOut.filters > 0 ? [several(p.leftOut.filters, 'filter outside them', 'filters outside them')] : []
    const criteria = p.leftOut.criteria > 0 ? [several(p.leftOut.criteria, 'criterion on the room', 'criteria on the room')] : []
    return `Not tested: only zones of the room were measured, which leaves ${[...filters, ...criteria].join(' and ')} open.`
  },
  'headline.open': (p: { run: Nested }, f: Formatter) => `Still open. ${said(p.run, f)}`,
  'headline.by_method': (p: { run: Nested; method: MethodId }, f: Formatter) =>
    `${said(p.run, f)} So it is ${BY_METHOD[p.method]}; the figures of the room come from its other run.`,
  'headline.retested': (p: { run: Nested }, f: Formatter) => `${said(p.run, f)} As left; it failed as found.`,
  'break.element': (p: { before: string; now: string }) => `Another filter sits here: ${p.now}, before ${p.before}.`,
  'break.elements': (p: { tags: string }) => `Filters were replaced: ${p.tags}.`,
  'break.instrument': (p: { before: string; now: string }) => `Measured with ${p.now}, before with ${p.before}.`,
  'break.grid': (p: { grid: { before: Grid; now: Grid } }) =>
    `Measured on ${p.grid.now.rows} × ${p.grid.now.columns} points, before on ${p.grid.before.rows} × ${p.grid.before.columns}.`,
  'break.basis': (p: { bases: { before: Basis; now: Basis } }) => `The figure is ${BASIS[p.bases.now]}, before ${BASIS[p.bases.before]}.`,
  'break.way': (p: { ways: { before: FlowWay; now: FlowWay } }) => `Measured ${WAY[p.ways.now]}, before ${WAY[p.ways.before]}.`,
  'break.plane': (p: { planes: { before: MeasuringPlane['kind']; now: MeasuringPlane['kind'] } }) =>
    `Measured at ${PLANE[p.planes.now]}, before at ${PLANE[p.planes.before]}.`,
  'break.volume': (p: { volume: { beforeM3: number; nowM3: number } }, f: Formatter) => {
    const shown = f.against(p.volume.nowM3, p.volume.beforeM3, 'volume')
    return `The room's volume is ${shown.value}, before ${shown.limit}.`
  },
  'break.criteria': (p: { revisions: { before: number | null; now: number | null; sameSet: boolean } }) => {
    const { before, now, sameSet } = p.revisions
    return sameSet && before !== null && now !== null
      ? `Judged by revision ${now} of the criteria, before by revision ${before}.`
      : 'Judged by another criteria set than before.'
  },
  'break.zone_criteria': (_p: Record<string, never>) => 'A zone of the room was judged by other criteria than before.',
  'summary.fails': (p: { room: string; run: Nested }, f: Formatter) => roomFails(p.room, p.run, f),
  'summary.retested': (p: { room: string; run: Nested }, f: Formatter) =>
    `${p.room} failed as found and was measured again. As found: ${whatFailed(p.room, p.run, f)}`,
  'summary.unsettled': (p: { rooms: string; count: number }) =>
    `${several(p.count, 'room is', 'rooms are')} not settled (not tested, not valid or inconclusive): ${p.rooms}.`,
  'summary.nothing_measured': (_p: Record<string, never>) => 'Nothing has been measured in the later visit yet.',
  'summary.air_changes_fell': (p: { room: string; figure: AirChangesFell }, f: Formatter) => {
    const shown = f.against(p.figure.nowPerHour, p.figure.thenPerHour, 'air_change_rate')
    const fell = `${p.room}: air changes fell by ${percent(p.figure.percent, f)}, from ${shown.limit} to ${shown.value}`
    return `${fell}${certaintyOfFall(p.figure, f)}.`
  },
  'summary.other_basis': (p: { room: string; bases: { before: Basis; now: Basis } }) =>
    `${p.room}: the air changes are ${BASIS[p.bases.now]} and were ${BASIS[p.bases.before]}; they are not compared.`,
  'summary.loading': (
    p: {
      room: string
      tags: string
      more: number
      count: number
      figure: { worstPercent: number; middlePercent: number }
    },
    f: Formatter,
  ) =>
    `${p.room}: ${several(p.count, 'filter lost', 'filters lost')} clearly more velocity than the neighbours, at most ${percent(p.figure.worstPercent, f)} where the middle of the room ${p.figure.middlePercent < 0 ? 'lost' : 'gained'} ${percent(p.figure.middlePercent, f)}: ${p.tags}${p.more > 0 ? ` and ${p.more} more` : ''}.`,
  'summary.replaced': (p: { tags: string; more: number; count: number }) =>
    `${several(p.count, 'filter was', 'filters were')} replaced: ${p.tags}${p.more > 0 ? ` and ${p.more} more` : ''}.`,
  'summary.instruments': (p: { before: string; now: string; counts: { gone: number; come: number } }) => {
    const come = p.counts.come > 0 ? `measured with ${p.now} for the first time` : ''
    const gone = p.counts.gone > 0 ? `no longer with ${p.before}` : ''
    return `Instruments changed: ${[come, gone].filter(Boolean).join('; ')}.`
  },
  'summary.criteria': (p: { rooms: number }) => `The criteria changed between the visits in ${several(p.rooms, 'room', 'rooms')}.`,
  'summary.calculation_changed': (p: { rows: number }) =>
    `${several(p.rows, 'line differs', 'lines differ')} from what was signed, because the calculation has changed since; the signed figures stand.`,
  'summary.nothing': (_p: Record<string, never>) => 'Nothing failed, and nothing changed that stands out.',
}
