import { useMemo } from 'react'
import type { Entity } from '#core/model/entities.ts'
import type { RunResult } from '#core/model/results.ts'
import { useFormatter, useSay } from '#renderer/app/session.tsx'
import { rowsOf } from '../plan/reading-order.ts'
import { type ShadeRange, shadeRange } from '../plan/velocity-shade.ts'
import { type FaceLook, faceLook, type LookWords } from './face-look.ts'

/** Looks of all terminals in reading order, and the range that velocity shades run over (null while verdicts are shown). */
export function useFaceLooks(
  terminals: readonly Entity<'terminal'>[],
  run: RunResult | null,
  byVelocity: boolean,
): { looks: readonly FaceLook[]; shade: ShadeRange | null } {
  const t = useSay()
  const formatter = useFormatter()
  return useMemo(() => {
    const words: LookWords = {
      formatter,
      verdict: (verdict) => t(`app.verdict.${verdict}`, {}),
      name: ({ kind, ...texts }) => t('map.face.name', { ...texts, of: { kind } }),
      closed: t('map.face.closed', {}),
    }
    const results = new Map(run?.filters.map((filter) => [filter.terminalId, filter]))
    const means = run?.filters.flatMap((filter) => filter.meanVelocityMps ?? []) ?? []
    const shade = byVelocity ? shadeRange(means) : null
    const looks = terminals.map((terminal) => faceLook(terminal, results.get(terminal.id) ?? null, shade, words))
    return { looks: rowsOf(looks).flat(), shade }
  }, [terminals, run, byVelocity, t, formatter])
}
