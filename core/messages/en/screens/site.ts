import type { Formatter } from '#core/units/formatter.ts'

/** Words of the site screen. Codes start with "site." */
type None = Record<never, never>

const count = (n: number, one: string, many: string) => (n === 1 ? `1 ${one}` : `${n} ${many}`)

export const site = {
  'site.title': (_p: None) => 'Site',
  'site.summary': (p: { rooms: number; facilities: number }) =>
    `${count(p.rooms, 'room', 'rooms')} in ${count(p.facilities, 'facility', 'facilities')}`,
  'site.dates': (p: { startsOn: string; endsOn: string }, f: Formatter) =>
    p.startsOn === p.endsOn ? f.date(p.startsOn) : `${f.date(p.startsOn)} to ${f.date(p.endsOn)}`,
  'site.of_filters': (p: { planned: number }) => `of ${p.planned}`,
  'site.rooms_by_verdict': (_p: None) => 'Rooms by verdict',
  'site.filters': (_p: None) => 'Terminals measured',
  'site.in_scope': (p: { rooms: number }) => `${count(p.rooms, 'room', 'rooms')} in scope`,

  'site.nobody': (_p: None) =>
    'Nobody is picked to work, so everything can be looked at and nothing changed. Pick a person at the upper right.',
  'site.notices': (_p: None) => 'To know',
  'site.notices.none': (_p: None) => 'Nothing is due, nothing failed, and every instrument is in calibration.',
  'site.notices.more': (p: { count: number }) => `${p.count} more`,
  'site.notices.fewer': (_p: None) => 'Fewer',

  'site.facility.add': (_p: None) => 'Add a facility',
  'site.facility.new': (_p: None) => 'New facility',
  'site.facility.edit': (p: { name: string }) => `Edit ${p.name}`,
  'site.facility.name': (_p: None) => 'Name',
  'site.facility.name_hint': (_p: None) => 'A building or area with a plan of its own',
  'site.facility.address': (_p: None) => 'Address',
  'site.facility.north': (_p: None) => 'North',
  'site.facility.north_hint': (_p: None) => 'Degrees clockwise from plan-up; 0 when north is up',
  'site.facility.altitude': (_p: None) => 'Altitude above the sea',
  'site.facility.note': (_p: None) => 'Notes',
  'site.facility.remove': (p: { name: string }) => `Remove ${p.name}`,
  'site.facility.needs_name': (_p: None) => 'Type a name for the facility.',
  'site.facility.needs_north': (_p: None) => 'Type degrees from 0 to less than 360.',
  'site.facility.needs_altitude': (_p: None) => 'Type an altitude between 500 m below and 6000 m above the sea.',
  'site.facility.commands': (p: { name: string }) => `Commands for ${p.name}`,

  'site.room.add': (_p: None) => 'Add a room',
  'site.room.edit_plan': (_p: None) => 'Edit plan and details',
  'site.room.copy': (_p: None) => 'Copy with its filters',
  'site.room.copied': (p: { number: string }) => `${p.number} is there, beside the others. Pull its walls where they belong.`,
  'site.room.remove': (_p: None) => 'Remove',
  'site.room.removed': (p: { number: string }) => `${p.number} is removed; what was measured there stays in the trail.`,
  'site.room.close': (_p: None) => 'Take out of use',
  'site.room.reopen': (_p: None) => 'Take into use again',
  'site.room.commands': (p: { number: string }) => `Commands for ${p.number}`,
  'site.room.map': (_p: None) => 'Map',

  'site.column.verdict': (_p: None) => 'Verdict',
  'site.column.room': (_p: None) => 'Room',
  'site.column.class': (_p: None) => 'Class',
  'site.column.filters': (_p: None) => 'Terminals',
  'site.column.flow': (_p: None) => 'Supply',
  'site.column.air_changes': (_p: None) => 'Air changes',
  'site.at_least': (p: { figure: string }) => `at least ${p.figure}`,
  'site.column.commands': (_p: None) => 'Commands',
  'site.state.as_built': (_p: None) => 'as built',
  'site.state.at_rest': (_p: None) => 'at rest',
  'site.state.in_operation': (_p: None) => 'in operation',
  'site.class': (p: { cleanlinessClass: string }) => p.cleanlinessClass,
  'site.filters_of': (p: { measured: number; planned: number }) => `${p.measured}/${p.planned}`,
  'site.not_in_scope': (_p: None) => 'not in this certification',
  'site.out_of_use': (_p: None) => 'out of use',
  'site.failed_as_found': (_p: None) => 'failed as found, passed as left',
  'site.rooms_of': (p: { facility: string }) => `Rooms of ${p.facility}`,

  'site.empty': (_p: None) => 'This project has no facility yet',
  'site.empty_text': (_p: None) =>
    'A facility is a building or area with one plan: its rooms, walls, doors and filters. Start with one; rooms come next.',
  'site.empty_rooms': (_p: None) => 'No rooms yet',
  'site.empty_rooms_text': (_p: None) => 'Draw the first room, or type its size. Filters go into its ceiling next.',
  'site.next_step': (_p: None) => 'No certification yet',
  'site.next_step_text': (_p: None) => 'A certification is one visit or campaign. Start one when the rooms and filters are in place.',
  'site.next_step_action': (_p: None) => 'Plan a certification',

  'site.why.all_pass': (_p: None) => 'Every room passes, as found.',
  'site.why.select': (_p: None) => 'Select a room in the table for its figures and runs.',
  'site.why.criteria': (_p: None) => 'Criteria by verdict',
  'site.why.runs': (_p: None) => 'Test runs',
  'site.why.no_runs': (_p: None) => 'No test run in this certification yet.',
  'site.why.as_found': (_p: None) => 'as found',
  'site.why.as_left': (_p: None) => 'as left',
  'site.why.run_state.open': (_p: None) => 'open',
  'site.why.run_state.complete': (_p: None) => 'complete',
  'site.why.run_state.signed': (_p: None) => 'signed',
  'site.why.points': (p: { measured: number; planned: number }) => `${p.measured} of ${p.planned} points`,
  'site.why.limit': (p: { perHour: number }, f: Formatter) => `at least ${f.quantity(p.perHour, 'air_change_rate')} required`,
  'site.why.map': (_p: None) => 'Open the map',
  'site.why.history': (_p: None) => 'History',
  'site.why.trail': (_p: None) => 'Trail',
}
