import type { Formatter } from '#core/units/formatter.ts'

/** Words of the audit screen. Codes start with "audit." */
type None = Record<never, never>

export const audit = {
  'audit.title': (_p: None) => 'Trail',
  'audit.about': (_p: None) => 'Every change of this project: who, when, what before and after, and why. Nothing here can be edited.',
  'audit.filtered': (p: { what: string }) => `Only what is about ${p.what}`,
  'audit.filter.this': (_p: None) => 'one thing of this project',
  'audit.filter.all': (_p: None) => 'Show everything',
  'audit.find': (_p: None) => 'Find in what is shown',
  'audit.more': (_p: None) => 'Earlier entries',
  'audit.seek': (p: { text: string }) => `Look for “${p.text}” in earlier entries`,
  'audit.seek.stop': (p: { read: number }) => `Looking through earlier entries: ${p.read} read. Stop`,
  'audit.end': (_p: None) => 'This is the beginning of the trail.',
  'audit.reading': (_p: None) => 'Reading the trail',
  'audit.empty': (_p: None) => 'No entries here',
  'audit.empty_text': (_p: None) => 'The trail writes itself: the first change makes the first entry.',
  'audit.nothing_found': (p: { text: string }) => `None of the entries read so far holds “${p.text}”.`,
  'audit.column.at': (_p: None) => 'When',
  'audit.column.person': (_p: None) => 'Who',
  'audit.column.did': (_p: None) => 'What',
  'audit.column.about': (_p: None) => 'About',
  'audit.column.reason': (_p: None) => 'Why',
  'audit.column.number': (_p: None) => 'No.',
  'audit.someone': (_p: None) => 'not in this project',
  'audit.and_more': (p: { count: number }) => `and ${p.count} more`,
  'audit.entry': (p: { number: number }) => `Entry ${p.number}`,
  'audit.entry.hash': (_p: None) => 'Seal',
  'audit.entry.zone': (_p: None) => 'Time zone',
  'audit.entry.undoes': (_p: None) => 'Turns back an earlier change',
  'audit.entry.only_about': (p: { what: string }) => `Everything about ${p.what}`,
  'audit.before': (_p: None) => 'before',
  'audit.after': (_p: None) => 'after',
  'audit.created': (p: { what: string }) => `${p.what} added`,
  'audit.removed': (p: { what: string }) => `${p.what} removed`,
  'audit.unchanged': (_p: None) => 'No field differs.',
  'audit.yes': (_p: None) => 'yes',
  'audit.no': (_p: None) => 'no',
  'audit.none': (_p: None) => '\u2014',
  'audit.field': (p: { path: string }) => wordsOf(p.path),
  'audit.value.items': (p: { count: number }) => (p.count === 1 ? '1 item' : `${p.count} items`),
  'audit.value.point': (p: { x: number; y: number }, f: Formatter) => `${f.quantity(p.x, 'length')} / ${f.quantity(p.y, 'length')}`,
  'audit.change.reading': (p: { point: number; sample: number; typed: string }) => `Point ${p.point}, sample ${p.sample}: ${p.typed}`,
  'audit.change.void': (p: { reading: string }) => `Reading ${p.reading} voided`,
  'audit.change.readings': (p: { count: number; first: string }) => `${p.count} readings, from reading ${p.first} on`,
  'audit.change.voids': (p: { count: number; first: string }) => `${p.count} readings voided, from reading ${p.first} on`,
  'audit.change.layout': (p: { filters: number; before: number; after: number }) =>
    `Measuring points of ${p.filters === 1 ? 'one filter' : `${p.filters} filters`}: ${p.before} before, ${p.after} after`,
  'audit.change.pin': (p: { what: string; before: number | null; after: number | null }) =>
    `The run uses ${p.what}: ${p.before === null ? '' : `revision ${p.before} before, `}${p.after === null ? 'no longer' : `revision ${p.after}`}`,
  'audit.change.pin.thing': (_p: None) => 'a filter or calibration',
  'audit.change.results': (p: { rows: number; meaning: string }) => `Results frozen at signing (${p.meaning}): ${p.rows} rows`,
  'audit.change.attachment': (p: { name: string }) => `${p.name} attached`,
  'audit.run.as_found': (p: { room: string }) => `${p.room} as found`,
  'audit.run.as_left': (p: { room: string }) => `${p.room} as left`,
  'audit.about.run': (_p: None) => 'test run',
  'audit.about.readings': (p: { count: number; run: string }) => `${p.run}: ${p.count === 1 ? 'a reading' : `${p.count} readings`}`,
}

/** "ceilingHeight.typed" reads "ceiling height, typed". */
function wordsOf(path: string): string {
  return path
    .replace(/\.(\d+)/g, (_all, index: string) => ` ${Number(index) + 1}`)
    .split('.')
    .map((part) =>
      part
        .replace(/([a-z0-9])([A-Z])/g, '$1 $2')
        .replaceAll('_', ' ')
        .toLowerCase(),
    )
    .join(', ')
}
