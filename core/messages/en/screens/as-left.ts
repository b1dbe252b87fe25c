import type { Basis } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'

const BASIS: Readonly<Record<Basis, string>> = { as_indicated: 'as indicated', standard: 'standard air', actual: 'actual air' }

type None = Record<never, never>
type Typed = { readonly typed: string; readonly unit: string }

const several = (count: number, one: string, many: string) => `${count} ${count === 1 ? one : many}`

/** Words of as found and as left on the certifications screen: what is carried, what was repeated. */
export const asLeft = {
  'asleft.carry': (_p: None) => 'Carry from as found',
  'asleft.carry.about': (_p: None) =>
    'As left measures every terminal of the room again, since one damper moves its neighbours. Terminals that nobody touched may stand as they were found, with one written reason for the group; they are marked as carried.',
  'asleft.carry.no_source': (_p: None) =>
    'There is no complete as-found run of the same method in this room, so nothing can be carried. Measure every terminal.',
  'asleft.carry.nothing': (_p: None) => 'Every terminal has readings of its own in this run, so nothing is left to carry.',
  'asleft.carry.moved': (_p: None) => 'Since as found, the fan or a main damper was',
  'asleft.carry.moved.no': (_p: None) => 'not moved',
  'asleft.carry.moved.yes': (_p: None) => 'moved',
  'asleft.carry.moved_refused': (_p: None) => 'Then the whole room moves, and nothing may be carried. Measure every terminal again.',
  'asleft.carry.state_differs': (p: { found: string; left: string }) =>
    `The air handler read “${p.found || '—'}” as found and “${p.left || '—'}” as left. Make sure that neither fan nor main damper was moved.`,
  'asleft.carry.terminal': (p: { tag: string; velocity: number | null; flow: number | null }, f: Formatter) => {
    const figures = [
      p.velocity === null ? '' : f.quantity(p.velocity, 'velocity'),
      p.flow === null ? '' : f.quantity(p.flow, 'flow'),
    ].filter((part) => part !== '')
    return `${p.tag}: ${figures.join(', ')}`
  },
  'asleft.carry.all': (_p: None) => 'All of them',
  'asleft.carry.reason': (_p: None) => 'Why they stand as found',
  'asleft.carry.reason_hint': (_p: None) => 'One reason for the group, such as: not adjusted, own branch.',
  'asleft.carry.go': (p: { count: number }) => `Carry ${several(p.count, 'terminal', 'terminals')}`,
  'asleft.carry.given': (p: { reason: string }) => `Carried: ${p.reason}`,
  'asleft.carry.points': (p: { means: readonly number[]; of: { basis: Basis } }, f: Formatter) =>
    `point by point as found, ${BASIS[p.of.basis]}: ${p.means.map((mean) => f.number(mean, 'velocity')).join(', ')} ${f.unit('velocity')}`,
  'asleft.carry.take_back': (_p: None) => 'Carry these no more',
  'asleft.carry.command': (p: { reason: string }) => `${p.reason} (fan and main dampers not moved)`,
  'asleft.carried_count': (p: { count: number }) => `${several(p.count, 'terminal', 'terminals')} carried from as found`,

  'asleft.repeats': (p: { count: number }) => several(p.count, 'repeat', 'repeats'),
  'asleft.repeats.title': (_p: None) => 'Readings that were repeated or taken back',
  'asleft.repeats.filter': (_p: None) => 'Terminal',
  'asleft.repeats.count': (_p: None) => 'Repeats',
  'asleft.repeats.what': (_p: None) => 'What and why',
  'asleft.repeats.no_terminal': (_p: None) => 'no terminal',
  'asleft.repeats.line': (p: { first: Typed; after: Typed | null; point: number | null; reason: string }) => {
    const where = p.point === null ? '' : ` at point ${p.point}`
    const later = p.after === null ? 'taken back' : `then ${p.after.typed} ${p.after.unit}`
    return `${p.first.typed} ${p.first.unit}${where}, ${later}: ${p.reason || 'corrected by the same person while the run was open'}`
  },
  'asleft.repeats.none': (_p: None) => 'No reading of this run was repeated.',
}
