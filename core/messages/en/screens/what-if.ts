import type { Basis, Dimension } from '#core/model/values.ts'
import type { Remedy } from '#core/rooms/what-if.ts'
import type { Formatter } from '#core/units/formatter.ts'

type None = Record<never, never>
type Hindrance = NonNullable<Remedy['hindrance']>

const HINDRANCE: Readonly<Record<Hindrance, string>> = {
  above_velocity_limit: 'would leave its own limits, too much air',
  below_velocity_limit: 'would leave its own limits, too little air',
  not_adjustable: 'cannot be set',
  not_running: 'gives no air now',
  would_reverse: 'would have to run backwards',
}
const BASIS: Readonly<Record<Basis, string>> = { as_indicated: 'as indicated', standard: 'of standard air', actual: 'of actual air' }
/** Below, a percentage to one decimal would read as none. */
const LEAST_SHOWN_PERCENT = 0.05
const NEIGHBOURS =
  'Nothing is changed by this. In a real duct or plenum the neighbours move too when one is set: measure every terminal again afterwards.'

const lackText = (
  p: { title: string; limit: number; dimension: Dimension; supply: number; target: number; change: number; of: { basis: Basis } },
  f: Formatter,
) => {
  const stands = `${p.title}: the limit of ${f.quantity(p.limit, p.dimension)} stands for ${f.quantity(p.target, 'flow')}; the supply is ${f.quantity(p.supply, 'flow')} ${BASIS[p.of.basis]}`
  if (p.change === 0) return `${stands}. Nothing has to change.`
  const change = f.against(Math.abs(p.change), 0, 'flow').value
  return p.change > 0 ? `${stands}: ${change} are lacking.` : `${stands}: ${change} too much.`
}

/** Words of "what if", on the screen and on the command line. */
export const whatIf = {
  'whatif.open': (_p: None) => 'What if …',
  'whatif.title': (p: { room: string }) => `What if, in ${p.room}`,
  'whatif.neighbours': (_p: None) => NEIGHBOURS,
  'whatif.kind': (_p: None) => 'Question',
  'whatif.kind.one': (_p: None) => 'One filter',
  'whatif.kind.speed': (_p: None) => 'Fan speeds',
  'whatif.limit': (_p: None) => 'Limit of the room',
  'whatif.no_limit': (_p: None) => 'This run is held against no limit on the supply of its room, so there is nothing to aim at.',
  'whatif.lack': lackText,
  'whatif.guarded': (p: { band: number; dimension: Dimension }, f: Formatter) =>
    `The guard band, ${f.quantity(p.band, p.dimension)} now, is in this limit already; it grows with what is raised, taken on the safe side.`,
  'whatif.undecidable': (p: { title: string }) =>
    `${p.title}: this instrument cannot decide this limit, whatever the supply. No change is offered; measure with a smaller uncertainty.`,
  'whatif.missing': (p: { missing: readonly string[] }) =>
    `No answer yet: ${p.missing.join(', ')} ${p.missing.length === 1 ? 'has' : 'have'} no flow on the basis of this limit.`,
  'whatif.filter': (_p: None) => 'Filter',
  'whatif.now': (_p: None) => 'Now',
  'whatif.then': (_p: None) => 'Then',
  'whatif.change': (_p: None) => 'Change',
  'whatif.raised_by': (p: { percent: number }, f: Formatter) =>
    `${p.percent > 0 ? '+' : ''}${Math.abs(p.percent) < LEAST_SHOWN_PERCENT ? f.significant(p.percent, 2) : f.number(p.percent, 'percent')}`,
  'whatif.velocity': (_p: None) => 'Velocity then',
  'whatif.of_design': (_p: None) => 'Of design then',
  'whatif.answer': (_p: None) => 'Answer',
  'whatif.possible': (_p: None) => 'possible',
  'whatif.hindrance': (p: { of: { hindrance: Hindrance } }) => HINDRANCE[p.of.hindrance],
  'whatif.speed.about': (_p: None) =>
    'Flow follows fan speed in proportion as long as the change is modest and the resistance stays (common practice).',
  'whatif.speed.group': (_p: None) => 'Changed',
  'whatif.speed.pick': (p: { tag: string }) => `${p.tag} is changed`,
  'whatif.speed.percent': (_p: None) => 'Speed changed by',
  'whatif.speed.fans': (_p: None) => 'Only fan filter units',
  'whatif.speed.all': (_p: None) => 'All',
  'whatif.speed.none': (_p: None) => 'None',
  'whatif.speed.to_limit': (p: { title: string; percent: number }, f: Formatter) =>
    `To the limit of ${p.title}: ${p.percent >= 0 ? '+' : '−'}${f.quantity(Math.abs(p.percent), 'percent', { digits: 2 })}`,
  'whatif.speed.incomplete': (_p: None) => 'No answer yet: not every filter of the supply has a flow.',
  'whatif.speed.supply': (_p: None) => 'Supply',
  'whatif.speed.air_changes': (_p: None) => 'Air changes',
  'whatif.speed.from_to': (p: { from: string; to: string }) => `${p.from} → ${p.to}`,
  'whatif.speed.outside': (_p: None) => 'leaves its own limits',

  'cli.whatif.room': (p: { number: string; name: string }) => (p.name ? `${p.number} ${p.name}` : p.number),
  'cli.whatif.remedy': (
    p: { tag: string; from: number; to: number; percent: number | null; of: { hindrance: Hindrance | null } },
    f: Formatter,
  ) => {
    const percent = p.percent === null ? '' : ` (${p.percent >= 0 ? '+' : '−'}${f.quantity(Math.abs(p.percent), 'percent')})`
    const hindrance = p.of.hindrance === null ? '' : `; ${HINDRANCE[p.of.hindrance]}`
    return `${p.tag}: ${f.quantity(p.from, 'flow')} to ${f.quantity(p.to, 'flow')}${percent}${hindrance}`
  },
}
