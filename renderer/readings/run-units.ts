import type { Run } from '#core/model/runs.ts'
import type { Quantity, Unit } from '#core/model/values.ts'
import type { DisplayUnits } from '#core/units/formatter.ts'

type WithUnits = Pick<Run, 'unit' | 'otherUnits'>

/** The unit that readings of a quantity are typed in: the run's own, else the one that the project shows. */
export function unitOfRun(run: WithUnits, quantity: Quantity, display: Pick<DisplayUnits, 'flow' | 'pressure'>): Unit {
  switch (quantity) {
    case 'flow':
      return run.otherUnits?.flow ?? display.flow
    case 'velocity_pressure':
    case 'pressure_difference':
      return run.otherUnits?.pressure ?? display.pressure
    default:
      return run.unit
  }
}

/** Units that a quantity of a run may be typed in. */
export function unitChoices(quantity: Quantity): readonly Unit[] {
  switch (quantity) {
    case 'flow':
      return ['m3/h', 'L/s', 'cfm', 'm3/s']
    case 'velocity_pressure':
    case 'pressure_difference':
      return ['Pa', 'inH2O']
    default:
      return ['m/s', 'ft/min']
  }
}

/** The run's units with another one for a quantity. */
export function withUnit(
  run: WithUnits,
  quantity: Quantity,
  unit: Unit,
  display: Pick<DisplayUnits, 'flow' | 'pressure'>,
): Partial<WithUnits> {
  if (quantity === 'velocity') return { unit }
  const otherUnits = run.otherUnits ?? { flow: display.flow, pressure: display.pressure }
  return { otherUnits: quantity === 'flow' ? { ...otherUnits, flow: unit } : { ...otherUnits, pressure: unit } }
}
