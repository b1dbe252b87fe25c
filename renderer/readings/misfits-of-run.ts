import { type Misfit, misfitsOf } from '#core/methods/airflow/suitability.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { Quantity } from '#core/model/values.ts'
import { quantitiesOf, type RunPlan } from './run-plan.ts'
import type { HandInstrument } from './use-hand-instrument.ts'

type Instruments = readonly Pick<HandInstrument, 'id' | 'body'>[]

function inputOf(plan: RunPlan, terminals: RunPlan['terminals'], instruments: Instruments) {
  return {
    run: plan.run.body,
    room: plan.room,
    zones: plan.zones,
    terminals,
    instruments,
    wayAt: methodOf(plan.run.body.method).wayAt,
  }
}

/** What does not suit about a run and what is asked, with the instruments that it used and those in the hand. */
export function misfitsOfRun(plan: RunPlan, hand: { readonly of: (quantity: Quantity) => HandInstrument | null }): Misfit[] {
  const held = quantitiesOf(plan).flatMap((quantity) => hand.of(quantity) ?? [])
  const used = new Map([...plan.instruments, ...held].map(({ id, body }) => [id, { id, body }]))
  const carried = new Set(plan.filters.filter((filter) => filter.carried !== null).map((filter) => filter.terminalId))
  const terminals = plan.terminals.filter(({ id }) => !carried.has(id))
  return misfitsOf(inputOf(plan, terminals, [...used.values()]))
}

/** What would not suit about one instrument, for what is read as one quantity. Questions that are asked of every instrument are left out. */
export function misfitsOfInstrument(plan: RunPlan, instrument: HandInstrument, quantity: Quantity): Misfit[] {
  const read = new Set(plan.filters.filter((filter) => filter.quantity === quantity).map((filter) => filter.terminalId))
  const terminals = plan.terminals.filter(({ id }) => read.has(id))
  return misfitsOf(inputOf(plan, terminals, [instrument])).filter(({ weight, instrumentId }) => weight === 'stops' && instrumentId !== null)
}

/** How many misfits and questions wait for a written reason. */
export function openMisfits(misfits: readonly Misfit[]): { readonly stops: number; readonly asks: number } {
  const open = misfits.filter(({ acceptedBy }) => acceptedBy === null)
  const stops = open.filter(({ weight }) => weight === 'stops').length
  return { stops, asks: open.length - stops }
}
