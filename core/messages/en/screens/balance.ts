import type { RoomGap } from '#core/api/balance.ts'
import type { DoorResult } from '#core/model/results.ts'
import type { AirDirection } from '#core/model/terminals.ts'
import type { Basis, Phase } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { PHASE } from '../states.ts'

type None = Record<never, never>

const DIRECTION: Readonly<Record<AirDirection, string>> = { supply: 'supply', return: 'return', exhaust: 'exhaust' }
const SIGN = { positive: 'air goes out', negative: 'air comes in', undecided: 'cannot be told' } as const
const AGREEMENT: Readonly<Record<DoorResult['measuredAgainstBalance'], string>> = {
  agrees: 'agrees',
  disagrees: 'disagrees',
  cannot_tell: '—',
  both_ways: 'cannot tell: air goes both ways here',
}
const FLOWS: Readonly<Record<Basis, string>> = {
  as_indicated: 'Flows as indicated',
  standard: 'Flows of standard air',
  actual: 'Flows of actual air',
}
const list = (tags: readonly string[]) => (tags.length > 8 ? `${tags.slice(0, 8).join(', ')} and ${tags.length - 8} more` : tags.join(', '))

function gapText(gap: RoomGap, missing: readonly string[]): string {
  switch (gap) {
    case 'no_run':
      return 'not measured in this certification'
    case 'supply_only':
      return 'only its supply was measured'
    case 'terminals_missing':
      return `no flow yet of ${list(missing)}`
  }
}

/** Words of the air balance of a site, on the screen and on the command line. */
export const balance = {
  'balance.title': (_p: None) => 'Air balance',
  'balance.about': (p: { certification: string; of: { basis: Basis }; kgpm3: number }, f: Formatter) =>
    p.of.basis === 'standard'
      ? `${p.certification}. Flows of standard air (${f.decimal(p.kgpm3, 4)} kg/m³): equal flows are equal mass.`
      : `${p.certification}. Flows as indicated where a room has no conditions recorded, so this is no balance of mass.`,
  'balance.facility': (_p: None) => 'Show the air of',
  'balance.whole_site': (_p: None) => 'the whole site',
  'balance.caution': (_p: None) =>
    'A disagreement is a question, not a verdict. Where a room contains something that must not get out, act by the site’s procedures and local codes first.',
  'balance.site': (_p: None) => 'All rooms together',
  'balance.supply': (_p: None) => 'Supply',
  'balance.return': (_p: None) => 'Return',
  'balance.exhaust': (_p: None) => 'Exhaust',
  'balance.offset': (_p: None) => 'Offset',
  'balance.to_outside': (_p: None) => 'To outside, known',
  'balance.to_outside_short': (_p: None) => 'To outside',
  'balance.unaccounted': (_p: None) => 'Unaccounted',
  'balance.unaccounted_note': (_p: None) => 'leaks nobody measured, and error',
  'balance.between': (_p: None) => 'Between rooms, known',
  'balance.between_note': (_p: None) => 'out of one, into another: in no sum',
  'balance.recirculated': (_p: None) => 'Moved within rooms',
  'balance.recirculated_note': (_p: None) => 'fan filter units and benches, and their returns: in no sum',
  'balance.offset_note': (p: { offset: number | null }) =>
    p.offset === null ? 'none while a room is incomplete' : p.offset >= 0 ? 'leaves the rooms' : 'comes into the rooms',
  'balance.minus': (_p: None) => '−',
  'balance.equals': (_p: None) => '=',
  'balance.plus': (_p: None) => '+',
  'balance.so_far': (_p: None) => 'so far',
  'balance.rounding': (_p: None) => 'Every figure is rounded for itself, so the last digit of a sum may differ by one.',

  'balance.rooms': (_p: None) => 'Room by room',
  'balance.rooms_in': (p: { unit: string }) => `Room by room, ${p.unit}`,
  'balance.room': (_p: None) => 'Room',
  'balance.room_name': (p: { number: string; name: string }) => (p.name ? `${p.number} ${p.name}` : p.number),
  'balance.run': (p: { of: { phase: Phase } }) => PHASE[p.of.phase],
  'balance.percent': (p: { percent: number }, f: Formatter) => `${f.quantity(p.percent, 'percent')} of supply`,
  'balance.in': (_p: None) => 'From rooms',
  'balance.out': (_p: None) => 'To rooms',
  'balance.total': (_p: None) => 'Sum',
  'balance.gap': (p: { gap: RoomGap; missing: readonly string[] }) => gapText(p.gap, p.missing),
  'balance.no_rooms': (_p: None) => 'No room is in the scope of this certification.',

  'balance.doors': (_p: None) => 'Doors: which way the air goes',
  'balance.door': (_p: None) => 'Door',
  'balance.door_unnamed': (_p: None) => 'door',
  'balance.wanted': (_p: None) => 'Wanted',
  'balance.expected': (_p: None) => 'Balance lets expect',
  'balance.measured': (_p: None) => 'Measured',
  'balance.against_wanted': (_p: None) => 'Measured and wanted',
  'balance.against_balance': (_p: None) => 'Measured and balance',
  'balance.sign': (p: { of: { sign: keyof typeof SIGN | null }; pa: number | null }, f: Formatter) => {
    if (p.of.sign === null) return '—'
    return p.pa === null ? SIGN[p.of.sign] : `${SIGN[p.of.sign]}, ${f.quantity(p.pa, 'pressure')}`
  },
  'balance.agreement': (p: { of: { agreement: DoorResult['measuredAgainstBalance'] } }) => AGREEMENT[p.of.agreement],
  'balance.of_room': (p: { of: { basis: Basis } }) =>
    p.of.basis === 'standard' ? 'Air balance, standard air' : 'Air balance, as indicated',
  'balance.offset_of_room': (p: { offset: number | null; percent: number | null; missing: number }, f: Formatter) => {
    if (p.offset === null) return p.missing === 1 ? 'none: one terminal has no flow' : `none: ${p.missing} terminals have no flow`
    const percent = p.percent === null ? '' : `, ${f.quantity(p.percent, 'percent')} of supply`
    return `${p.offset > 0 ? '+' : ''}${f.quantity(p.offset, 'flow')}${percent}`
  },
  'balance.offset_at_room': (_p: None) => 'Offset as the room’s air',
  'balance.door_words': (
    p: {
      name: string
      wanted: { sign: keyof typeof SIGN | null; pa: number | null }
      expected: { sign: keyof typeof SIGN | null }
      measured: { sign: keyof typeof SIGN | null; pa: number | null }
    },
    f: Formatter,
  ) => {
    const told = (sign: keyof typeof SIGN | null, pa: number | null) =>
      sign === null ? '—' : pa === null ? SIGN[sign] : `${SIGN[sign]} (${f.quantity(pa, 'pressure')})`
    const parts = [
      `wanted: ${told(p.wanted.sign, p.wanted.pa)}`,
      `balance: ${told(p.expected.sign, null)}`,
      `measured: ${told(p.measured.sign, p.measured.pa)}`,
    ]
    return `${p.name || 'Door'}: ${parts.join('; ')}`
  },
  'balance.no_doors': (_p: None) => 'No door of these rooms has a wanted or measured pressure yet.',

  'balance.transfers': (_p: None) => 'Known air through doors',
  'balance.transfer_from': (_p: None) => 'From',
  'balance.transfer_to': (_p: None) => 'To',
  'balance.outside': (_p: None) => 'outside',
  'balance.transfer_flow': (_p: None) => 'Counts as',
  'balance.transfer_how': (_p: None) => 'Known by',
  'balance.transfer_left': (p: { of: { why: 'no_density' | 'room_not_in_balance' } }) =>
    p.of.why === 'no_density'
      ? 'does not count: no conditions in the room that the air comes from'
      : 'does not count: one of its rooms is not in this balance',
  'balance.no_transfers': (_p: None) => 'No known air through doors. Enter it at the door, in the room editor.',

  'balance.systems': (_p: None) => 'Air systems against the design of their fans',
  'balance.system': (_p: None) => 'Air system',
  'balance.direction': (_p: None) => 'Direction',
  'balance.direction.name': (p: { of: { direction: AirDirection } }) => DIRECTION[p.of.direction],
  'balance.terminal_sum': (_p: None) => 'Terminals together',
  'balance.in_duct': (_p: None) => 'In its duct',
  'balance.design': (_p: None) => 'Design',
  'balance.of_design': (_p: None) => 'of design',
  'balance.terminals': (_p: None) => 'Terminals',
  'balance.missing': (p: { missing: readonly string[]; soFar: number }, f: Formatter) =>
    `${f.quantity(p.soFar, 'flow')} so far; no flow yet of ${list(p.missing)}`,
  'balance.systems_about': (p: { of: { basis: Basis } }) =>
    `${FLOWS[p.of.basis]}; the designs are read as the same, as they stood when the runs were completed. Terminals that give less than the fan’s design may mean leaking ducts.`,
  'balance.no_systems': (_p: None) => 'No air system has a terminal or a design yet. Add air systems on the site screen.',

  'cli.balance.site': (
    p: { supply: number; return: number; exhaust: number; offset: number | null; toOutside: number; unaccounted: number | null },
    f: Formatter,
  ) =>
    `supply ${f.quantity(p.supply, 'flow')} − return ${f.quantity(p.return, 'flow')} − exhaust ${f.quantity(p.exhaust, 'flow')} = offset ${f.quantity(p.offset, 'flow')} = to outside ${f.quantity(p.toOutside, 'flow')} + unaccounted ${f.quantity(p.unaccounted, 'flow')}`,
  'cli.balance.room': (
    p: {
      number: string
      name: string
      supply: number
      return: number
      exhaust: number
      offset: number | null
      gap: RoomGap | null
      missing: readonly string[]
    },
    f: Formatter,
  ) => {
    const room = p.name ? `${p.number} ${p.name}` : p.number
    const flows = `supply ${f.quantity(p.supply, 'flow')}, return ${f.quantity(p.return, 'flow')}, exhaust ${f.quantity(p.exhaust, 'flow')}`
    return p.gap === null ? `${room}: ${flows}, offset ${f.quantity(p.offset, 'flow')}` : `${room}: ${flows}; ${gapText(p.gap, p.missing)}`
  },
  'cli.balance.system': (
    p: {
      name: string
      of: { direction: AirDirection }
      flow: number | null
      design: number | null
      percent: number | null
      missing: readonly string[]
    },
    f: Formatter,
  ) => {
    const design = p.design === null ? 'no design' : `design ${f.quantity(p.design, 'flow')}`
    const percent = p.percent === null ? '' : `, ${f.quantity(p.percent, 'percent')} of it`
    const missing = p.missing.length === 0 ? '' : `; no flow yet of ${list(p.missing)}`
    return `${p.name}, ${DIRECTION[p.of.direction]}: ${f.quantity(p.flow, 'flow')}, ${design}${percent}${missing}`
  },
}
