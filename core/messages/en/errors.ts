import { wordsOf } from '../words.ts'

const WANTED: { readonly [kind: string]: string } = {
  string: 'a text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object',
  null: 'null',
  record: 'an object',
}
const COUNTED: { readonly [kind: string]: string } = { string: 'characters are', array: 'entries are', set: 'entries are' }

/** Failures: each sentence says what happened and what to do. */
export const errors = {
  'error.internal': (p: { cause: string }) =>
    `Something went wrong inside the program (${p.cause}). Nothing was changed. Please try again.`,
  'error.not_found': (p: { what: string }) => `This ${wordsOf(p.what)} is not in the project. It may have been removed in another window.`,
  'error.invalid_input': (p: { detail: string }) => `This input does not fit: ${p.detail}.`,
  'input.wanted': (p: { what: string }) => `${WANTED[p.what] ?? p.what} is wanted here`,
  'input.too_small': (p: { of: string; least: string; itself: boolean }) =>
    COUNTED[p.of]
      ? `at least ${p.least} ${COUNTED[p.of]} wanted here`
      : `a number ${p.itself ? 'of at least' : 'above'} ${p.least} is wanted here`,
  'input.too_big': (p: { of: string; most: string; itself: boolean }) =>
    COUNTED[p.of]
      ? `at most ${p.most} ${COUNTED[p.of]} allowed here`
      : `a number ${p.itself ? 'of at most' : 'below'} ${p.most} is wanted here`,
  'input.unknown': (p: { names: string }) => `${p.names} is not known here; leave it out or correct its name`,
  'input.one_of': (p: { values: string }) => `one of these is wanted here: ${p.values}`,
  'input.form': (p: { form: string }) => `this has not the form that is wanted here (${p.form})`,
  'input.none_fits': (_p: Record<never, never>) => 'this is none of the forms that are known here',
  'input.other': (p: { detail: string }) => p.detail,
  'error.conflict': (p: { what: string }) =>
    `This ${wordsOf(p.what)} was changed meanwhile. Look at the current state and repeat your change.`,
  'error.no_project': (_p: Record<never, never>) => 'No project is open. Open or create one first.',
  'error.read_only': (_p: Record<never, never>) => 'This project is open for reading only, so nothing can be changed here.',

  'error.command_reused': (_p: Record<never, never>) =>
    'This change carries the identity of another change that is in the trail already. Reload the page and make the change again.',
  'error.command_name': (p: { name: string }) => `A change of this kind cannot be called "${p.name}". Reload the page and try again.`,
  'error.one_project': (_p: Record<never, never>) => 'A file holds exactly one project. Its settings can be edited, not added or removed.',
  'error.no_parent': (p: { what: string }) => `A ${wordsOf(p.what)} stands at the top of the project and belongs to nothing else.`,
  'error.parent_kind': (p: { what: string; parent: string }) => `A ${wordsOf(p.what)} belongs to a ${wordsOf(p.parent)}. Choose one.`,
  'error.parent_stays': (p: { what: string }) =>
    `A ${wordsOf(p.what)} keeps its place in the project for life. Remove it here and add a new one there.`,
  'error.reference_missing': (p: { what: string }) => `This names a ${wordsOf(p.what)} that is not in the project. Choose another.`,
  'error.zone_of_other_room': (_p: Record<never, never>) =>
    'This zone lies in another room. Choose a zone of the filter’s own room, or none.',
  'error.still_used': (p: { what: string; by: string }) =>
    `This ${wordsOf(p.what)} is still used by a ${wordsOf(p.by)}. Change that first, then remove it.`,
  'error.own_person': (_p: Record<never, never>) => 'You cannot remove yourself. Let another person of the project do it.',
  'error.own_activity': (_p: Record<never, never>) => 'You cannot take yourself out of use. Let another person of the project do it.',
  'error.person_inactive': (p: { name: string }) =>
    `${p.name} is out of use and changes nothing here. Choose another person, or let one of them put ${p.name} back in use.`,
  'error.certification_has_runs': (_p: Record<never, never>) =>
    'This certification has test runs, so it stays with the project. Finish it instead.',
  'error.ends_before_start': (_p: Record<never, never>) => 'The last day lies before the first. Correct one of the two dates.',

  'error.run_signed': (_p: Record<never, never>) => 'This run is signed, so it stays as it is. Start a new run to measure again.',
  'error.run_complete': (_p: Record<never, never>) => 'This run is complete. Reopen it, with a reason, to change it.',
  'error.run_open': (_p: Record<never, never>) => 'This run is still open. Complete it before it is signed.',
  'error.reason_needed_complete': (_p: Record<never, never>) => 'This run is complete, so a change needs a reason. Write down why.',
  'error.reason_needed_other': (_p: Record<never, never>) =>
    'Another person took this reading, so changing it needs a reason. Write down why.',
  'error.reason_needed_missing': (p: { tags: string; filters: number }) =>
    p.filters === 1
      ? `${p.tags} has points without a reading. Measure them or give a reason.`
      : `${p.filters} filters have points without a reading: ${p.tags}. Measure them or give a reason.`,
  'error.already_signed': (_p: Record<never, never>) => 'You have signed this run with this meaning already.',
  'error.nothing_to_measure': (_p: Record<never, never>) =>
    'There is no supply filter in use here, so there is nothing to measure. Place filters on the room map first.',
  'error.reason_needed_plane': (p: { measured: number; planned: number }) =>
    `${p.measured} of ${p.planned} points of the plane have a reading. Measure the others or give a reason.`,
  'error.plane_needs_zone': (_p: Record<never, never>) =>
    'A measuring plane belongs to a zone. Choose the zone, or draw one in the room first.',
  'error.room_flow_needs_room': (_p: Record<never, never>) =>
    'The air flow of a room takes in every terminal of it. Choose the whole room, and not a zone.',
  'error.plane_has_readings': (_p: Record<never, never>) =>
    'This run has readings on the plane it has now. Void those readings first, or keep the plane.',
  'error.way_has_readings': (p: { tags: string; terminals: number }) =>
    `${p.tags} ${p.terminals === 1 ? 'is' : 'are'} measured another way now, and ${p.terminals === 1 ? 'has' : 'have'} readings. Void those readings first, or set the old way again.`,
  'error.carried_as_left_only': (_p: Record<never, never>) => 'Only an as-left run carries readings from as found.',
  'error.carried_from_elsewhere': (_p: Record<never, never>) =>
    'Readings are carried from a complete as-found run of the same visit, room and method. Choose that run.',
  'error.carried_though_moved': (_p: Record<never, never>) =>
    'The fan or a main damper was moved since as found, so no reading can be carried. Measure these terminals again.',
  'error.carried_not_asked': (_p: Record<never, never>) =>
    'Say whether the fan or a main damper was moved since as found: only where neither was can readings be carried.',
  'error.carried_twice': (p: { tag: string }) => `${p.tag} is carried twice. Name it once.`,
  'error.carried_has_readings': (p: { tag: string }) => `${p.tag} has readings of its own in this run, so nothing is carried for it.`,
  'error.carried_not_measured': (p: { tag: string }) => `${p.tag} has no readings in the as-found run. Measure it.`,
  'error.is_carried': (p: { tag: string }) =>
    `${p.tag} is carried from as found in this run. Take it out of the carried ones before you measure it.`,
  'error.grid_of_faces': (_p: Record<never, never>) =>
    'Only faces that are measured by a grid of velocities have rows and columns. Change how the terminal is measured first, or its duct.',
  'error.grid_has_readings': (_p: Record<never, never>) =>
    'These filters have readings on the grid they have now. Void those readings first, or keep the grid.',
  'error.no_such_point': (p: { point: number }) => `This run has no point ${p.point} now. Look at the current grid.`,
  'error.no_such_sample': (p: { sample: number; most: number }) =>
    `Sample ${p.sample} does not belong here: this run takes ${p.most} per point.`,
  'error.reading_changed': (p: { point: number }) => `Point ${p.point} was changed meanwhile. Look at what stands there now.`,
  'error.instrument_inactive': (p: { name: string }) => `${p.name} is out of use. Choose another instrument, or put it back in use.`,

  'error.nothing_to_undo': (_p: Record<never, never>) => 'There is nothing of yours to undo here.',
  'error.nothing_to_redo': (_p: Record<never, never>) => 'There is nothing of yours to redo here.',
  'error.turn_stopped': (_p: Record<never, never>) => 'It was stopped. Nothing was changed.',
  'error.built_upon': (p: { command: string }) =>
    `This step (${wordsOf(p.command)}) cannot be turned back any more: something was changed on top of it since. Change it by hand instead.`,

  'exchange.not_json': (p: { name: string }) =>
    `${p.name} is no exchange file of this program: it cannot be read as JSON. Choose another file.`,
  'exchange.newer': (p: { name: string }) => `${p.name} was written by a newer version of this program. Update, then import it.`,
  'exchange.problem': (p: { path: string; detail: string; others: string[]; more: number }) =>
    [
      `Nothing was imported. ${p.path}: ${p.detail}.`,
      ...p.others.map((other) => `${other}.`),
      ...(p.more > 0 ? [`And ${p.more} more.`] : []),
    ].join(' '),
  'exchange.no_basis': (p: { criteria: number; sets: readonly string[] }) =>
    `${p.criteria === 1 ? 'One criterion of the imported file does' : `${p.criteria} criteria of the imported file do`} not say which air ${p.criteria === 1 ? 'it speaks' : 'they speak'} of (${p.sets.join(', ')}). ${p.criteria === 1 ? 'It is' : 'They are'} held against figures as indicated by the instrument, which may pass what actual air would not. If actual air is meant, say so in the criteria set.`,
  'exchange.no_person': (_p: Record<never, never>) => 'Nothing was imported. An exchange file needs at least one person.',
  'exchange.one_project': (_p: Record<never, never>) => 'Nothing was imported. An exchange file describes exactly one project.',
  'exchange.unsound': (p: { detail: string }) => `Nothing was imported. The file contradicts itself: ${p.detail}`,

  'error.attachment_too_large': (p: { name: string; capMb: number }) =>
    `${p.name} is larger than ${p.capMb} MB, the most that one attachment may hold. Attach a smaller copy.`,
  'error.no_folder': (_p: Record<never, never>) => 'No folder is open to the program. Start it with a folder that it may use.',
  'error.folder_name': (p: { name: string }) => `"${p.name}" cannot be the name of a folder. Use letters, digits, blanks and hyphens.`,
  'error.backup_folder': (p: { name: string }) =>
    `${p.name} holds automatic backups, which the program thins out by itself. Choose another folder.`,
  'error.folder_exists': (p: { name: string }) => `There is a folder or file called ${p.name} already. Choose another name.`,
  'error.no_demo': (_p: Record<never, never>) => 'The demo project is not part of this installation.',
  'error.empty_project': (p: { name: string }) =>
    `${p.name} holds no project yet: its making was interrupted. Remove it and create it again.`,
}
