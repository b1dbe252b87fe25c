import type { z } from 'zod'
import type { ChangeEvent } from '#core/api/changes.ts'
import type { EntityKind } from '#core/model/entities.ts'

export type Change = z.infer<typeof ChangeEvent>

/** A part of the contract whose answers went stale: a path such as `runs.get`, with the input that narrows it. */
export type Stale = {
  readonly path: readonly string[]
  readonly input?: Readonly<Record<string, string>>
  /** several changes within this time cost one refetch */
  readonly afterMs: number
}

const AT_ONCE = 0
const SOON = 250
/** Figures of whole rooms and visits are dear; while a technician types they follow when the typing rests. */
const AT_REST = 1200

const PINNED: ReadonlySet<EntityKind> = new Set(['room', 'zone', 'terminal', 'filter_element', 'instrument', 'calibration', 'criteria_set'])

/** What a change makes stale. An empty path means everything. */
export function staleAfter(change: Change): Stale[] {
  switch (change.what) {
    case 'file':
      return [{ path: [], afterMs: AT_ONCE }]
    case 'entities': {
      const runsToo = change.kinds.some((kind) => PINNED.has(kind))
      return [
        { path: ['entities'], afterMs: AT_ONCE },
        { path: ['commands'], afterMs: AT_ONCE },
        { path: ['evaluation'], afterMs: SOON },
        { path: ['certifications'], afterMs: SOON },
        { path: ['compare'], afterMs: SOON },
        { path: ['criteria', 'preview'], afterMs: SOON },
        { path: ['balance'], afterMs: SOON },
        { path: ['recalculation'], afterMs: SOON },
        { path: ['search'], afterMs: SOON },
        { path: ['audit'], afterMs: SOON },
        { path: ['attachments'], afterMs: SOON },
        ...(runsToo ? [{ path: ['runs'], afterMs: SOON }] : []),
      ]
    }
    case 'readings':
      return [
        { path: ['runs', 'get'], input: { runId: change.runId }, afterMs: SOON },
        { path: ['commands'], afterMs: AT_ONCE },
        { path: ['evaluation', 'run'], input: { runId: change.runId }, afterMs: SOON },
        { path: ['evaluation', 'budget'], input: { runId: change.runId }, afterMs: SOON },
        { path: ['evaluation', 'room'], afterMs: AT_REST },
        { path: ['evaluation', 'certification'], afterMs: AT_REST },
        { path: ['evaluation', 'overview'], afterMs: AT_REST },
        { path: ['certifications'], afterMs: AT_REST },
        { path: ['compare'], afterMs: AT_REST },
        { path: ['criteria', 'preview'], afterMs: AT_REST },
        { path: ['balance'], afterMs: AT_REST },
        { path: ['recalculation'], afterMs: AT_REST },
        { path: ['audit'], afterMs: AT_REST },
      ]
    case 'run':
      return [
        { path: ['runs'], afterMs: AT_ONCE },
        { path: ['entities'], afterMs: SOON },
        { path: ['commands'], afterMs: AT_ONCE },
        { path: ['evaluation'], afterMs: SOON },
        { path: ['certifications'], afterMs: SOON },
        { path: ['compare'], afterMs: SOON },
        { path: ['criteria', 'preview'], afterMs: SOON },
        { path: ['balance'], afterMs: SOON },
        { path: ['recalculation'], afterMs: SOON },
        { path: ['search'], afterMs: SOON },
        { path: ['audit'], afterMs: SOON },
      ]
    case 'job':
      return [{ path: ['jobs', 'get'], input: { id: change.job.id }, afterMs: AT_ONCE }]
  }
}
