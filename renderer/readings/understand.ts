import { refuseReading } from '#core/methods/airflow/plausibility.ts'
import type { Pinned } from '#core/methods/method.ts'
import { parseEntered } from '#core/units/parse.ts'
import type { RunPlan } from './run-plan.ts'
import type { Understanding } from './typing.ts'

/** Reads what was typed in the run's unit, or says in a sentence why it cannot be taken: no number, a closed run, a blind instrument. */
export function understand(
  text: string,
  plan: Pick<RunPlan, 'run'>,
  instrument: Pick<Pinned<'instrument'>, 'body'> | null,
  canChange: boolean,
): Understanding {
  const refuse = (code: 'readings.cannot_change' | 'readings.run_not_open' | 'readings.no_instrument'): Understanding => ({
    ok: false,
    problem: { code, params: {} },
  })
  if (!canChange) return refuse('readings.cannot_change')
  if (plan.run.body.state !== 'open') return refuse('readings.run_not_open')
  if (!instrument) return refuse('readings.no_instrument')
  const parsed = parseEntered(text, plan.run.body.unit)
  if (!parsed.ok) return { ok: false, problem: parsed.problem }
  const refusal = refuseReading({ si: parsed.value.si, quantity: 'velocity', instrument: instrument.body })
  return refusal ? { ok: false, problem: refusal } : { ok: true, value: parsed.value }
}
