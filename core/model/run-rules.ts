import { checkEntered, type RuleProblem } from './rule-problem.ts'
import type { Conditions, Run } from './runs.ts'

/** Air that can be in a building, wide enough for any; temperature in degC, humidity in percent, absolute pressure in Pa. */
const LIKELY = {
  temperature: { low: -40, high: 60 },
  relativeHumidity: { low: 0, high: 100 },
  pressure: { low: 40_000, high: 120_000 },
} as const

function checkConditions(field: string, conditions: Conditions): RuleProblem[] {
  const { temperature, relativeHumidity, pressure } = conditions
  const problems = [
    ...checkEntered(`${field}.temperature`, temperature, 'temperature'),
    ...checkEntered(`${field}.relativeHumidity`, relativeHumidity, 'percent', 'not_below_zero'),
    ...checkEntered(`${field}.pressure`, pressure, 'pressure', 'above_zero'),
  ]
  if (problems.length > 0) return problems
  return (['temperature', 'relativeHumidity', 'pressure'] as const).flatMap((what): RuleProblem[] => {
    const si = conditions[what]?.si
    const { low, high } = LIKELY[what]
    return si === undefined || (si >= low && si <= high)
      ? []
      : [{ field: `${field}.${what}`, code: 'rule.no_such_air', params: { what, low, high } }]
  })
}

/** A run: units and conditions of their dimension, air that can be, pressures over doors. */
export function checkRun(run: Run): RuleProblem[] {
  return [
    ...checkEntered('unit', { si: 0, typed: '0', unit: run.unit }, 'velocity'),
    ...checkConditions('conditions', run.conditions),
    ...(run.instrumentConditions ? checkConditions('instrumentConditions', run.instrumentConditions) : []),
    ...(run.otherUnits ? checkEntered('otherUnits.flow', { si: 0, typed: '0', unit: run.otherUnits.flow }, 'flow') : []),
    ...(run.otherUnits ? checkEntered('otherUnits.pressure', { si: 0, typed: '0', unit: run.otherUnits.pressure }, 'pressure') : []),
    ...run.doorPressures.flatMap(({ difference }, index) => checkEntered(`doorPressures.${index}.difference`, difference, 'pressure')),
  ]
}
