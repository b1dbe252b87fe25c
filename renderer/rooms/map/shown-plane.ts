import { useMemo } from 'react'
import type { z } from 'zod'
import type { RunDetail } from '#core/api/runs.ts'
import type { RunResult } from '#core/model/results.ts'
import { type PlaneCell, planeCells } from '../plan/plane-cells.ts'
import { type ShadeRange, shadeRange } from '../plan/velocity-shade.ts'

export type ShownPlane = { readonly zone: string; readonly cells: readonly PlaneCell[]; readonly range: ShadeRange | null }

/** Whether a run was measured over the plane of a zone. */
export function isPlane(run: RunResult | null): boolean {
  return run?.zones.some(({ planeCells: cells }) => cells.length > 0) ?? false
}

/** The measuring plane of the run in sight, cell by cell; null where it was measured filter by filter. */
export function useShownPlane(run: RunResult | null, detail: z.infer<typeof RunDetail> | undefined): ShownPlane | null {
  return useMemo(() => {
    const result = run?.zones.find(({ planeCells: cells }) => cells.length > 0)
    const zone = detail?.pins.find((pin) => pin.kind === 'zone' && pin.id === result?.zoneId)
    if (!result || !detail || zone?.kind !== 'zone' || detail.run.kind !== 'run' || detail.run.id !== run?.runId) return null
    const cells = planeCells(result.planeCells, detail.locations, zone.body.boundary, detail.run.body.planeGrid)
    return { zone: result.name, cells, range: shadeRange(cells.flatMap(({ meanMps }) => meanMps ?? [])) }
  }, [run, detail])
}
