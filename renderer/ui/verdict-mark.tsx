import type { Verdict } from '#core/model/criteria.ts'
import type { VerdictCounts } from '#core/model/results.ts'
import { useSay } from '../app/words.tsx'
import { joined } from './class-names.ts'
import styles from './verdict.module.css'
import { VERDICT_COLOUR, VERDICT_GROUND, VERDICT_HATCH } from './verdict-patterns.tsx'

/** Word of a verdict, for sentences and accessible names. */
export function useVerdictWord(): (verdict: Verdict) => string {
  const t = useSay()
  return (verdict) => {
    switch (verdict) {
      case 'pass':
        return t('app.verdict.pass', {})
      case 'fail':
        return t('app.verdict.fail', {})
      case 'inconclusive':
        return t('app.verdict.inconclusive', {})
      case 'not_tested':
        return t('app.verdict.not_tested', {})
      case 'not_valid':
        return t('app.verdict.not_valid', {})
      case 'not_applicable':
        return t('app.verdict.not_applicable', {})
    }
  }
}

/** The verdict's own outline on a 20 x 20 field: told apart without colour and without its word. */
export function VerdictShape({ verdict, size = 16 }: { verdict: Verdict; size?: number }) {
  const colour = VERDICT_COLOUR[verdict]
  const line = { stroke: colour, strokeWidth: 2, strokeLinejoin: 'round', strokeLinecap: 'round', fill: 'none' } as const
  return (
    <svg width={size} height={size} viewBox="0 0 20 20" aria-hidden="true" className={styles.shape}>
      {verdict === 'pass' ? (
        <>
          <circle cx="10" cy="10" r="8" fill={colour} stroke={colour} strokeWidth="2" />
          <path d="M5.8 10.3 9 13.4l5.4-6.4" {...line} stroke="var(--raised)" strokeWidth="2.4" />
        </>
      ) : null}
      {verdict === 'fail' ? (
        <>
          <path d="M10 18.5 1 3h18Z" fill={colour} stroke={colour} strokeWidth="1.6" strokeLinejoin="round" />
          <path d="M10 5.5v5.5M10 13.6v.3" {...line} stroke="var(--raised)" strokeWidth="2.2" />
        </>
      ) : null}
      {verdict === 'inconclusive' ? (
        <>
          <path d="M10 1.5 18.5 10 10 18.5 1.5 10Z" {...line} />
          <path d="M10 1.5 18.5 10 10 18.5Z" fill={colour} />
        </>
      ) : null}
      {verdict === 'not_tested' ? <circle cx="10" cy="10" r="7.5" {...line} strokeDasharray="3.5 3.8" /> : null}
      {verdict === 'not_valid' ? (
        <path
          d="M2.5 2.5h15v15h-15ZM2.5 10 10 2.5M2.5 17.5l15-15M10 17.5l7.5-7.5M10 2.5l7.5 7.5M2.5 2.5l15 15M2.5 10l7.5 7.5"
          {...line}
          strokeWidth="1.5"
        />
      ) : null}
      {verdict === 'not_applicable' ? <path d="M4 10h12" {...line} /> : null}
    </svg>
  )
}

type VerdictMarkProps = {
  verdict: Verdict
  /** `shape`: the word for assistive technology only, where the row already tells; `chip`: framed, with the hatch */
  look?: 'word' | 'shape' | 'chip'
  /** of a figure that was signed off or belongs to another year, written in front: "2026: pass" */
  prefix?: string
  className?: string
}

/** Word, shape, hatch and colour of a verdict. */
export function VerdictMark({ verdict, look = 'word', prefix, className }: VerdictMarkProps) {
  const word = useVerdictWord()(verdict)
  if (look === 'chip') {
    return (
      <span className={joined(styles.chip, className)} data-verdict={verdict} style={{ borderColor: VERDICT_COLOUR[verdict] }}>
        <svg className={styles.hatch} aria-hidden="true">
          <rect width="100%" height="100%" style={{ fill: VERDICT_GROUND[verdict] }} />
          <rect width="34" height="100%" style={{ fill: VERDICT_HATCH[verdict] }} />
        </svg>
        <span className={styles.plate}>
          <VerdictShape verdict={verdict} />
        </span>
        <span>
          {prefix}
          {word}
        </span>
      </span>
    )
  }
  return (
    <span className={joined(styles.mark, className)} data-verdict={verdict}>
      <VerdictShape verdict={verdict} />
      <span className={look === 'shape' ? 'visually-hidden' : undefined}>
        {prefix}
        {word}
      </span>
    </span>
  )
}

const BAR_ORDER = ['fail', 'not_valid', 'inconclusive', 'not_tested', 'pass'] as const

/** Shares of the verdicts as one thin hatched bar, the worst first; its numbers stand in the accessible name. */
export function VerdictBar({ counts, label }: { counts: VerdictCounts; label: string }) {
  const word = useVerdictWord()
  const total = BAR_ORDER.reduce((sum, verdict) => sum + counts[verdict], 0)
  if (total === 0) return null
  const present = BAR_ORDER.filter((verdict) => counts[verdict] > 0)
  const told = present.map((verdict) => `${counts[verdict]} ${word(verdict)}`).join(', ')
  let from = 0
  return (
    <svg className={styles.bar} role="img" aria-label={`${label}: ${told}`} preserveAspectRatio="none">
      {present.map((verdict) => {
        const x = (from / total) * 100
        from += counts[verdict]
        const share = (counts[verdict] / total) * 100
        return (
          <g key={verdict}>
            <rect x={`${x}%`} width={`${share}%`} height="100%" style={{ fill: VERDICT_GROUND[verdict] }} />
            <rect x={`${x}%`} width={`${share}%`} height="100%" style={{ fill: VERDICT_HATCH[verdict] }} />
            <rect
              x={`${x}%`}
              width={`${share}%`}
              height="3"
              style={{ fill: verdict === 'not_tested' ? 'none' : VERDICT_COLOUR[verdict] }}
            />
          </g>
        )
      })}
      <rect width="100%" height="100%" className={styles.barFrame} />
    </svg>
  )
}
