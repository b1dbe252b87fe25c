const count = (n: number, one: string, many: string) => `${n} ${n === 1 ? one : many}`

/** What a check of a project file found, in words. */
export const check = {
  'check.storage_ok': (_p: Record<never, never>) => 'The file is sound: every page, index and link inside it was read and fits.',
  'check.storage_damaged': (p: { detail: string }) =>
    `The file is damaged: ${p.detail}. Keep it as it is and open the newest sound copy in the folder of backups.`,
  'check.link_broken': (p: { table: string; rows: number; target: string }) =>
    `${count(p.rows, 'row', 'rows')} of ${p.table} refer to something in ${p.target} that is not there.`,
  'check.structure_differs': (p: { names: string }) => `The inner structure was changed by something other than this program: ${p.names}.`,
  'check.trail_ok': (p: { entries: number; segments: number; head: string }) =>
    `The audit trail is whole: ${count(p.entries, 'entry', 'entries')} in ${count(p.segments, 'opening', 'openings')}, each hash recomputed. Its head is ${p.head}.`,
  'check.calculation_same': (p: { runs: number }) =>
    `${count(p.runs, 'signed run', 'signed runs')} computed again: today's calculation gives the signed figures.`,
  'check.calculation_changed': (p: {
    certification: string
    room: string
    filters: string
    signedVersion: number
    todaysVersion: number
  }) =>
    `Calculation changed: ${p.certification}, room ${p.room} was signed with calculation ${p.signedVersion}; today's calculation ${p.todaysVersion} reads ${p.filters === '' ? 'the room' : p.filters} otherwise. The signed figures stand as they were signed.`,
  'check.segment_changed': (p: { segment: string }) =>
    `The start of the trail's part ${p.segment} does not fit its hash: it was changed after it was written.`,
  'check.segment_origin_missing': (p: { segment: string; hash: string }) =>
    `The trail's part ${p.segment} grew from an entry (${p.hash}) that is not in this file: entries were taken out.`,
  'check.entry_missing': (p: { segment: string; number: number }) => `Audit entry ${p.number} of part ${p.segment} is missing.`,
  'check.entry_changed': (p: { segment: string; number: number }) =>
    `Audit entry ${p.number} of part ${p.segment} does not fit its hash: it, or an entry before it, was changed after it was written.`,
  'check.entry_columns': (p: { segment: string; number: number }) =>
    `Audit entry ${p.number} of part ${p.segment} is filed under another command, person or scope than it names.`,
  'check.entry_unreadable': (p: { segment: string; number: number; fields: string }) =>
    `Audit entry ${p.number} of part ${p.segment} does not have the form it must have: look at ${p.fields}.`,
  'check.entry_newer': (p: { segment: string; number: number }) =>
    `Audit entry ${p.number} of part ${p.segment} was written in a form that only a newer program reads. Its hash was checked, its content was not.`,
  'check.entities_ok': (p: { entities: number; revisions: number }) =>
    `${count(p.entities, 'item', 'items')} with ${count(p.revisions, 'revision', 'revisions')} agree with the audit trail.`,
  'check.revision_gap': (p: { kind: string; id: string }) => `The revisions of ${p.kind} ${p.id} are not complete and in order.`,
  'check.revision_unaudited': (p: { kind: string; id: string; revision: number }) =>
    `Revision ${p.revision} of ${p.kind} ${p.id} is not what its audit entry says.`,
  'check.revision_lost': (p: { kind: string; id: string; revision: number }) =>
    `The audit trail records revision ${p.revision} of ${p.kind} ${p.id}, which is not in the file.`,
  'check.revisions_unaudited': (p: { revisions: number }) =>
    `${count(p.revisions, 'revision has', 'revisions have')} no entry in the audit trail.`,
  'check.body_invalid': (p: { kind: string; id: string; revision: number; fields: string }) =>
    `Revision ${p.revision} of ${p.kind} ${p.id} does not have the form it must have: look at ${p.fields}.`,
  'check.parent_wrong': (p: { kind: string; id: string }) => `The ${p.kind} ${p.id} stands under something it cannot belong to.`,
  'check.pins_ok': (p: { pins: number; runs: number }) =>
    `${count(p.runs, 'test run uses', 'test runs use')} exactly the revisions that the audit trail names: ${count(p.pins, 'revision', 'revisions')} in all.`,
  'check.pin_differs': (p: { runId: string; kind: string; id: string; stored: number; recorded: number }) =>
    `Run ${p.runId} uses revision ${p.stored} of ${p.kind} ${p.id}; the audit trail says revision ${p.recorded}.`,
  'check.pin_lost': (p: { runId: string; kind: string; id: string; revision: number }) =>
    `The audit trail says that run ${p.runId} uses revision ${p.revision} of ${p.kind} ${p.id}; in the file it does not.`,
  'check.pin_unaudited': (p: { runId: string; kind: string; id: string; revision: number }) =>
    `Run ${p.runId} uses revision ${p.revision} of ${p.kind} ${p.id}, of which the audit trail says nothing.`,
  'check.points_ok': (p: { points: number; runs: number }) =>
    `${count(p.points, 'measuring point', 'measuring points')} of ${count(p.runs, 'test run', 'test runs')} agree with the audit trail, as far as it describes them.`,
  'check.points_by_number': (p: { points: number }) =>
    `Of ${count(p.points, 'measuring point', 'measuring points')} an earlier program wrote only the number into the audit trail: that it is there and in use was checked, its place and area could not be.`,
  'check.point_differs': (p: { runId: string; point: number; fields: string }) =>
    `Point ${p.point} of run ${p.runId} is not what was laid out. The audit trail says otherwise of: ${p.fields}.`,
  'check.point_lost': (p: { runId: string; point: number }) =>
    `The audit trail records point ${p.point} of run ${p.runId}, which is not in the file.`,
  'check.point_unaudited': (p: { runId: string; point: number }) => `Point ${p.point} of run ${p.runId} has no entry in the audit trail.`,
  'check.point_use_differs': (p: { runId: string; point: number }) =>
    `Whether point ${p.point} of run ${p.runId} is in use is not what the audit trail says.`,
  'check.readings_ok': (p: { readings: number; voided: number }) =>
    `${count(p.readings, 'reading', 'readings')} (${p.voided} of them voided) agree with the audit trail, value by value.`,
  'check.reading_lost': (p: { id: string }) => `The audit trail records reading ${p.id}, which is not in the file.`,
  'check.reading_differs': (p: { id: string; fields: string }) =>
    `Reading ${p.id} is not what was recorded. The audit trail says otherwise of: ${p.fields}.`,
  'check.readings_differ': (p: { first: string; count: number }) =>
    `The ${p.count} readings from ${p.first} on, which came in by one import, are not what was recorded then: their rows do not fit the hash in the audit trail.`,
  'check.voids_differ': (p: { first: string; count: number }) =>
    `Whether and why the ${p.count} readings from ${p.first} on are voided is not what the audit trail says.`,
  'check.reading_unaudited': (p: { readings: number }) =>
    `${count(p.readings, 'reading has', 'readings have')} no entry in the audit trail.`,
  'check.void_differs': (p: { id: string }) => `Whether and why reading ${p.id} is voided is not what the audit trail says.`,
  'check.voids_unaudited': (p: { readings: number }) =>
    `${count(p.readings, 'reading is', 'readings are')} voided without an entry in the audit trail.`,
  'check.results_ok': (p: { results: number }) => `${count(p.results, 'signed result is', 'signed results are')} stored as signed.`,
  'check.result_changed': (p: { runId: string }) =>
    `The signed result of run ${p.runId} is not what was signed: it was changed, or its entry in the audit trail is missing.`,
  'check.kept_state_differs': (p: { certification: string }) =>
    `What the file keeps of the state of ${p.certification}, for its next opening, is not what its readings say: something other than this program wrote to it. Export the project and import it into a new file, where everything is worked out anew.`,
  'check.attachments_ok': (p: { attachments: number }) =>
    `${count(p.attachments, 'attachment has', 'attachments have')} the content that was attached.`,
  'check.attachment_changed': (p: { name: string }) => `The content of attachment ${p.name} is not what was attached.`,
  'check.and_more': (p: { more: number }) => `${count(p.more, 'more finding', 'more findings')} of the same kind.`,
}
