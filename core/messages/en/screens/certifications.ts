import type { RunSummary } from '#core/model/results.ts'
import type { MethodId } from '#core/model/runs.ts'
import type { OccupancyState, Phase, PlainDate } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { byMethod } from '../history.ts'
import { PHASE } from '../states.ts'

type None = Record<never, never>

const several = (count: number, one: string, many: string) => `${count} ${count === 1 ? one : many}`
const COMPASS = ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west'] as const
const OCCUPANCY: Record<OccupancyState, string> = { as_built: 'as built', at_rest: 'at rest', in_operation: 'in operation' }

/** Words of the certifications screen. Codes start with "certifications." */
export const certifications = {
  'certifications.loading': (_p: None) => 'Working out where this certification stands',
  'certifications.not_here': (_p: None) => 'This certification is not in the project.',
  'certifications.about': (p: { from: PlainDate; to: PlainDate; purpose: string }, f: Formatter) =>
    `${f.date(p.from)} to ${f.date(p.to)} · ${p.purpose}`,
  'certifications.purpose.initial': (_p: None) => 'initial',
  'certifications.purpose.periodic': (_p: None) => 'periodic',
  'certifications.purpose.after_change': (_p: None) => 'after a change',
  'certifications.purpose.investigation': (_p: None) => 'investigation',
  'certifications.compare': (_p: None) => 'Compare with the one before',
  'certifications.no_rooms': (_p: None) => 'No room is in the scope of this certification.',
  'certifications.no_rooms_hint': (_p: None) => 'Choose the rooms of this visit in the plan.',
  'certifications.to_plan': (_p: None) => 'Plan',

  'certifications.progress.rooms': (_p: None) => 'Rooms done',
  'certifications.progress.filters': (_p: None) => 'Terminals measured',
  'certifications.progress.failing': (_p: None) => 'Rooms that fail',
  'certifications.progress.left': (_p: None) => 'Readings left',
  'certifications.progress.of': (p: { done: number; all: number }) => `${p.done} of ${p.all}`,
  'certifications.progress.hours': (p: { minutes: number }) => {
    const hours = Math.floor(p.minutes / 60)
    const minutes = Math.round(p.minutes % 60)
    return `about ${hours > 0 ? `${hours} h ` : ''}${minutes} min`
  },
  'certifications.progress.verdicts': (_p: None) => 'Rooms by verdict',
  'certifications.show': (_p: None) => 'Which rooms to show',
  'certifications.show.all': (p: { count: number }) => `All ${p.count}`,
  'certifications.show.to_do': (p: { count: number }) => `To do ${p.count}`,
  'certifications.show.failing': (p: { count: number }) => `Failing ${p.count}`,
  'certifications.show.done': (p: { count: number }) => `Done ${p.count}`,
  'certifications.show.none': (_p: None) => 'No room of this kind.',

  'certifications.room.filters': (p: { measured: number; planned: number }) =>
    `${p.measured} of ${several(p.planned, 'filter', 'filters')}`,
  'certifications.room.air_changes': (_p: None) => 'air changes',
  'certifications.room.figures_from': (p: { method: MethodId }) => byMethod(p.method),
  'certifications.room.failed_as_found': (_p: None) => 'pass as left, failed as found',
  'certifications.room.retested': (_p: None) => 'failed as found',
  'certifications.room.start': (_p: None) => 'Start a run',
  'certifications.room.start_again': (_p: None) => 'New run',
  'certifications.room.runs': (p: { room: string }) => `Runs of ${p.room}`,

  'certifications.run.phase': (p: { phase: Phase }) => PHASE[p.phase],
  'certifications.run.zone': (p: { zone: string }) => p.zone,
  'certifications.run.points': (p: { measured: number; planned: number }) => `${p.measured} of ${several(p.planned, 'point', 'points')}`,
  'certifications.run.samples_lacking': (p: { lacking: number }) => `${several(p.lacking, 'sample', 'samples')} fewer than planned`,
  'certifications.run.state.open': (_p: None) => 'open',
  'certifications.run.state.complete': (_p: None) => 'complete',
  'certifications.run.state.signed': (_p: None) => 'signed',
  'certifications.run.superseded': (p: { state: RunSummary['state']; phase: Phase }) =>
    p.state === 'open' && p.phase === 'as_left' ? 'counts once it is complete' : 'not the one that counts',
  'certifications.run.measure': (_p: None) => 'Measure',
  'certifications.run.look': (_p: None) => 'Readings',
  'certifications.run.complete': (_p: None) => 'Complete',
  'certifications.run.sign': (_p: None) => 'Sign',
  'certifications.run.reopen': (_p: None) => 'Reopen',
  'certifications.run.attach': (_p: None) => 'Attachments',
  'certifications.run.names': (p: { room: string; phase: Phase }) => `${p.room}, ${PHASE[p.phase]}`,

  'certifications.start.title': (p: { room: string }) => `Start a run in ${p.room}`,
  'certifications.start.as_last': (p: { name: string }) => `Set as at the last run (${p.name}). Change what is different today.`,
  'certifications.start.first': (_p: None) => 'Set from the room. Change what is different today.',
  'certifications.start.where': (_p: None) => 'Room or zone',
  'certifications.start.whole_room': (_p: None) => 'Whole room',
  'certifications.start.phase': (_p: None) => 'Found or left',
  'certifications.start.plane': (_p: None) => 'Measuring plane',
  'certifications.start.plane.filter_face': (_p: None) => 'Filter face',
  'certifications.start.plane.working_height': (_p: None) => 'Working height',
  'certifications.start.distance': (_p: None) => 'Distance below the face',
  'certifications.start.height': (_p: None) => 'Height above the floor',
  'certifications.start.distance_range': (_p: None) => 'Usual is 0.15 m to 0.30 m below the face.',
  'certifications.start.positive': (_p: None) => 'Enter a length above zero.',
  'certifications.start.occupancy': (_p: None) => 'Occupancy',
  'certifications.start.occupancy_state': (p: { state: OccupancyState }) => OCCUPANCY[p.state],
  'certifications.start.facing': (_p: None) => 'You will face',
  'certifications.start.facing_way': (p: { eighth: number }) => COMPASS[p.eighth] ?? '',
  'certifications.start.averaging': (_p: None) => 'Averaging at each point',
  'certifications.start.averaging_short': (p: { leastS: number }, f: Formatter) =>
    `Shorter than ${f.quantity(p.leastS, 'duration')}: every reading will be flagged.`,
  'certifications.start.averaging_hint': (p: { leastS: number }, f: Formatter) =>
    `At least ${f.quantity(p.leastS, 'duration')} under these criteria.`,
  'certifications.start.samples': (_p: None) => 'Samples per point',
  'certifications.start.samples_range': (_p: None) => 'A whole number from 1 to 20.',
  'certifications.start.operating': (_p: None) => 'Operating state',
  'certifications.start.air_handler': (_p: None) => 'Air handler',
  'certifications.start.doors': (_p: None) => 'Doors',
  'certifications.start.equipment': (_p: None) => 'Equipment',
  'certifications.start.go': (_p: None) => 'Start and measure',

  'certifications.complete.title': (_p: None) => 'Complete this run',
  'certifications.complete.ready': (_p: None) => 'Every point has a reading or a reason. After completing, a change needs a reason.',
  'certifications.complete.missing': (p: { filters: number }) =>
    `${several(p.filters, 'terminal has', 'terminals have')} points without a reading. Tick those that one reason explains.`,
  'certifications.complete.missing_one': (p: { tag: string; measured: number; planned: number }) =>
    `${p.tag}: ${p.measured} of ${p.planned} points`,
  'certifications.complete.all': (_p: None) => 'All of them',
  'certifications.complete.cause': (_p: None) => 'Reason',
  'certifications.cause.inaccessible': (_p: None) => 'not accessible',
  'certifications.cause.obstructed': (_p: None) => 'obstructed',
  'certifications.cause.not_in_operation': (_p: None) => 'not in operation',
  'certifications.cause.other': (_p: None) => 'something else',
  'certifications.complete.note': (_p: None) => 'In words',
  'certifications.complete.note_needed': (_p: None) => 'Say in words what it was.',
  'certifications.complete.give_reason': (p: { count: number }) =>
    p.count === 1 ? 'Give this reason' : `Give this reason for ${p.count} terminals`,
  'certifications.complete.given': (p: { cause: string; tags: string; note: string }) =>
    `${p.tags}: ${p.cause}${p.note ? ` (${p.note})` : ''}`,
  'certifications.complete.take_back': (_p: None) => 'Take back this reason',
  'certifications.complete.go': (_p: None) => 'Complete the run',

  'certifications.reopen.title': (_p: None) => 'Reopen this run',
  'certifications.reopen.why': (_p: None) => 'Why is it opened again?',
  'certifications.reopen.needed': (_p: None) => 'A complete run is only opened with a reason.',
  'certifications.reopen.go': (_p: None) => 'Reopen the run',

  'certifications.sign.title': (_p: None) => 'Sign this run',
  'certifications.sign.frozen': (_p: None) =>
    'The first signature freezes the results as they stand. A signed run cannot be reopened; a new run measures again.',
  'certifications.sign.as': (p: { name: string }) => `You sign as ${p.name}.`,
  'certifications.sign.meaning': (_p: None) => 'What the signature means',
  'certifications.sign.performed': (_p: None) => 'performed',
  'certifications.sign.reviewed': (_p: None) => 'reviewed',
  'certifications.sign.approved': (_p: None) => 'approved',
  'certifications.sign.go': (_p: None) => 'Sign',
  'certifications.sign.done': (p: { name: string; meaning: string; at: string }, f: Formatter) =>
    `${p.meaning} by ${p.name}, ${f.dateTime(p.at)}`,

  'certifications.attach.title': (_p: None) => 'Attachments of this run',
  'certifications.attach.none': (_p: None) => 'Nothing attached: a photograph of a damper, a field sheet, a release form.',
  'certifications.attach.add': (_p: None) => 'Attach a file',
  'certifications.attach.open': (p: { name: string }) => `Save ${p.name} to disk`,
  'certifications.attach.size': (p: { bytes: number }) =>
    p.bytes < 1024 * 1024 ? `${Math.max(1, Math.round(p.bytes / 1024))} kB` : `${(p.bytes / 1024 / 1024).toFixed(1)} MB`,
  'certifications.attach.busy': (p: { name: string }) => `Storing ${p.name} in the project file`,
  'certifications.attach.too_large': (p: { name: string }) =>
    `${p.name} is larger than 20 MB, the most that one attachment may hold. Attach a smaller copy.`,
}
