import { useState } from 'react'
import { useFailureText } from './session.tsx'

/** One step with a run that a form carries out: busy while it lasts, and the sentence of what went wrong. */
export type RunStep = { busy: boolean; problem: string | null; run: (step: () => Promise<unknown>) => void }

/** Carries out steps with a run, one at a time; `onDone` is told after each that went well. */
export function useRunStep(onDone: () => void): RunStep {
  const failureText = useFailureText()
  const [busy, setBusy] = useState(false)
  const [problem, setProblem] = useState<string | null>(null)
  const run = (step: () => Promise<unknown>) => {
    setBusy(true)
    setProblem(null)
    step()
      .then(onDone, (error: unknown) => setProblem(failureText(error)))
      .finally(() => setBusy(false))
  }
  return { busy, problem, run }
}
