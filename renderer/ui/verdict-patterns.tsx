import type { Verdict } from '#core/model/criteria.ts'

/** `url(#...)` of the hatch that belongs to a verdict; draw it over the verdict's colour. Not tested is hollow: no hatch. */
export const VERDICT_HATCH: Readonly<Record<Verdict, string>> = {
  pass: 'url(#hatch-pass)',
  fail: 'url(#hatch-fail)',
  inconclusive: 'url(#hatch-inconclusive)',
  not_tested: 'none',
  not_valid: 'url(#hatch-not-valid)',
  not_applicable: 'none',
}

/** Colour of lines and shapes, at least 3:1 against every ground of the theme. */
export const VERDICT_COLOUR: Readonly<Record<Verdict, string>> = {
  pass: 'var(--pass)',
  fail: 'var(--fail)',
  inconclusive: 'var(--inconclusive)',
  not_tested: 'var(--not-tested)',
  not_valid: 'var(--not-valid)',
  not_applicable: 'var(--ink-faint)',
}

/** A soft area of the same colour, to be written upon with --ink. */
export const VERDICT_GROUND: Readonly<Record<Verdict, string>> = {
  pass: 'var(--pass-ground)',
  fail: 'var(--fail-ground)',
  inconclusive: 'var(--inconclusive-ground)',
  not_tested: 'transparent',
  not_valid: 'var(--not-valid-ground)',
  not_applicable: 'transparent',
}

/** The hatches, once per page: fail dense and leaning left, inconclusive upright, not valid crossed, pass sparse and leaning right. */
export function VerdictPatterns() {
  return (
    <svg width="0" height="0" aria-hidden="true" focusable="false" style={{ position: 'absolute' }}>
      <defs>
        <pattern id="hatch-pass" width="12" height="12" patternUnits="userSpaceOnUse">
          <path d="M-1 1 1-1M-1 13 13-1M11 13l2-2" stroke="var(--pass)" strokeWidth="1" strokeOpacity="0.45" />
        </pattern>
        <pattern id="hatch-fail" width="6" height="6" patternUnits="userSpaceOnUse">
          <path d="M-1 5l2 2M-1-1 7 7M5-1l2 2" stroke="var(--fail)" strokeWidth="1.6" strokeOpacity="0.75" />
        </pattern>
        <pattern id="hatch-inconclusive" width="5" height="5" patternUnits="userSpaceOnUse">
          <path d="M2.5 0v5" stroke="var(--inconclusive)" strokeWidth="1.2" strokeOpacity="0.7" />
        </pattern>
        <pattern id="hatch-not-valid" width="7" height="7" patternUnits="userSpaceOnUse">
          <path d="M0 0 7 7M7 0 0 7" stroke="var(--not-valid)" strokeWidth="1" strokeOpacity="0.8" />
        </pattern>
      </defs>
    </svg>
  )
}
