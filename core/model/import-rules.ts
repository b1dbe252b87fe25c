import type { EntityBody } from './entities.ts'
import { checkEntered, DIMENSION_OF_QUANTITY, type RuleProblem } from './rule-problem.ts'

/** No column holds two things, and a chosen unit fits a chosen quantity. */
export function checkImportMapping({ columns, unit, quantity }: EntityBody<'import_mapping'>): RuleProblem[] {
  const used = Object.entries(columns).filter((entry): entry is [string, number] => entry[1] !== null)
  const twice = used.flatMap(([use, column], index): RuleProblem[] =>
    used.findIndex(([, other]) => other === column) < index
      ? [{ field: `columns.${use}`, code: 'rule.repeated', params: { what: String(column) } }]
      : [],
  )
  const fits = unit !== null && quantity !== null ? checkEntered('unit', { si: 0, typed: '0', unit }, DIMENSION_OF_QUANTITY[quantity]) : []
  // A temperature of zero in another unit is another value; what is asked here is the dimension alone.
  return [...twice, ...fits.filter(({ code }) => code === 'rule.dimension')]
}
