import type { z } from 'zod'
import type { Job } from '#core/api/jobs.ts'
import { externalState } from './external-state.ts'

type JobData = z.infer<typeof Job>
export type Turning = { readonly id: string; readonly kind: 'undo' | 'redo'; readonly progress: number }

/** Undo or redo of so many readings that the engine does it beside its other work; null most of the time. */
export const turning = externalState<Turning | null>(null)

export function followTurn({ id, kind, state, progress }: JobData): void {
  if (kind !== 'undo' && kind !== 'redo') return
  if (state === 'running') turning.set({ id, kind, progress })
  else if (turning.get()?.id === id) turning.set(null)
}

/** The stream was down for a while, and the end of it may have gone by. */
export function forgetTurn(): void {
  turning.set(null)
}
