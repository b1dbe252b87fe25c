import { api } from '../app/client.ts'
import { newCommand } from '../app/session.tsx'
import { type RunStep, useRunStep } from '../app/use-run-step.ts'
import type { OpenRun } from './use-run-desk.ts'

type Edit = Parameters<typeof api.runs.edit>[0]['set']

/** A step that changes the run which the panel stands beside; the run is read anew, and the panel closes. */
export function useRunEdit({ plan, reload }: OpenRun, onClose: () => void): { step: RunStep; edit: (set: Edit) => void } {
  const step = useRunStep(() => {
    reload()
    onClose()
  })
  const edit = (set: Edit) => step.run(() => api.runs.edit({ command: newCommand(), runId: plan.runId, revision: plan.run.revision, set }))
  return { step, edit }
}
