import type { TerminalKind } from '#core/model/terminals.ts'

/** What the kinds of terminals are called. */
export const KIND: Readonly<Record<TerminalKind, string>> = {
  supply_filter: 'supply filter',
  fan_filter_unit: 'fan filter unit',
  return_grille: 'return grille',
  exhaust_grille: 'exhaust grille',
  duct_section: 'duct section',
}
