import { useState } from 'react'
import { useFailureText } from '../app/session.tsx'

/** Carries out one step with a run: busy while it lasts, and the sentence of what went wrong beside the form. */
export function useRunStep(onDone: () => void): { busy: boolean; problem: string | null; run: (step: () => Promise<unknown>) => void } {
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
