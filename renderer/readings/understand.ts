import { refuseReading } from '#core/methods/airflow/plausibility.ts'
import type { Pinned } from '#core/methods/method.ts'
import type { Quantity, Unit } from '#core/model/values.ts'
import { parseEntered } from '#core/units/parse.ts'
import type { RunPlan } from './run-plan.ts'
import type { Understanding } from './typing.ts'

/** What a place takes: which quantity, in which unit, and the tag of its terminal where that is carried from as found. */
export type Taken = { readonly quantity: Quantity; readonly unit: Unit; readonly carriedTag: string | null }

/**
 * Reads what was typed in the run's unit for the place, or says in a sentence why it cannot be taken: no number, another unit, a closed
 * run, a carried terminal, a blind instrument.
 */
export function understand(
  text: string,
  plan: Pick<RunPlan, 'run'>,
  taken: Taken,
  instrument: Pick<Pinned<'instrument'>, 'body'> | null,
  canChange: boolean,
): Understanding {
  const refuse = (code: 'readings.cannot_change' | 'readings.run_not_open' | 'readings.no_instrument'): Understanding => ({
    ok: false,
    problem: { code, params: {} },
  })
  const { quantity, unit, carriedTag } = taken
  if (!canChange) return refuse('readings.cannot_change')
  if (plan.run.body.state !== 'open') return refuse('readings.run_not_open')
  if (carriedTag !== null) return { ok: false, problem: { code: 'error.is_carried', params: { tag: carriedTag } } }
  if (!instrument) return refuse('readings.no_instrument')
  const parsed = parseEntered(text, unit)
  if (!parsed.ok) return { ok: false, problem: parsed.problem }
  const refusal = refuseReading({ si: parsed.value.si, quantity, instrument: instrument.body })
  return refusal ? { ok: false, problem: refusal } : { ok: true, value: parsed.value }
}
