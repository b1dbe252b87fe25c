import type { Verdict } from '#core/model/criteria.ts'

const HATCHED = ['pass', 'fail', 'inconclusive', 'not_valid'] as const

/**
 * The kit's hatches once more for a zoomed sheet: each borrows its lines by reference and undoes the sheet's scale, so that a hatch
 * looks the same at every zoom and as in the legend.
 */
export function PlanHatches({ pxPerM }: { pxPerM: number }) {
  return (
    <defs>
      {HATCHED.map((verdict) => (
        <pattern
          key={verdict}
          id={`plan-hatch-${verdict}`}
          href={`#hatch-${verdict.replace('_', '-')}`}
          patternTransform={`scale(${1 / pxPerM})`}
        />
      ))}
    </defs>
  )
}

export function planHatch(verdict: Verdict): string {
  return verdict === 'not_tested' || verdict === 'not_applicable' ? 'none' : `url(#plan-hatch-${verdict})`
}
