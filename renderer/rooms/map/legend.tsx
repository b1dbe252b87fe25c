import type { Verdict } from '#core/model/criteria.ts'
import type { TerminalKind } from '#core/model/terminals.ts'
import { useFormatter, useSay } from '#renderer/app/session.tsx'
import { useVerdictWord } from '#renderer/ui/verdict-mark.tsx'
import { VERDICT_COLOUR, VERDICT_GROUND, VERDICT_HATCH } from '#renderer/ui/verdict-patterns.tsx'
import { type ShadeRange, shadeOf } from '../plan/velocity-shade.ts'
import { kindMark } from './kind-mark.ts'
import styles from './legend.module.css'

const VERDICTS: readonly Verdict[] = ['pass', 'fail', 'inconclusive', 'not_tested', 'not_valid']
const STEPS = 24

type LegendProps = { shade: ShadeRange | null; kinds: readonly TerminalKind[]; measured: boolean }

/** What colours, hatches, lines and figures on the plan mean. */
export function Legend({ shade, kinds, measured }: LegendProps) {
  const t = useSay()
  return (
    <section className={styles.legend} aria-label={t('map.legend', {})}>
      {shade ? <ShadeScale range={shade} /> : <VerdictKey />}
      <ul className={styles.keys}>
        {kinds.map((kind) => (
          <li key={kind}>
            <svg width="18" height="18" viewBox="0 -18 18 18" aria-hidden="true">
              <path d="M2-16H16V-2H2Z" className={styles.box} />
              <path d={kindMark(kind, SAMPLE, 0.2)} className={styles.mark} />
            </svg>
            {t('map.kind', { of: { kind } })}
          </li>
        ))}
      </ul>
      {measured ? <FiguresKey /> : null}
    </section>
  )
}

const SAMPLE = [
  { x: 2, y: 2 },
  { x: 16, y: 2 },
  { x: 16, y: 16 },
  { x: 2, y: 16 },
]

function FiguresKey() {
  const t = useSay()
  const formatter = useFormatter()
  return <p className={styles.figures}>{t('map.legend.figures', { velocity: formatter.unit('velocity'), flow: formatter.unit('flow') })}</p>
}

function VerdictKey() {
  const word = useVerdictWord()
  return (
    <ul className={styles.keys}>
      {VERDICTS.map((verdict) => (
        <li key={verdict}>
          <svg width="24" height="18" aria-hidden="true">
            <rect x="1" y="1" width="22" height="16" style={{ fill: VERDICT_GROUND[verdict] }} />
            <rect x="1" y="1" width="22" height="16" style={{ fill: VERDICT_HATCH[verdict] }} />
            <rect
              x="1"
              y="1"
              width="22"
              height="16"
              fill="none"
              strokeWidth="1.75"
              strokeDasharray={verdict === 'not_tested' ? '5 3' : undefined}
              style={{ stroke: VERDICT_COLOUR[verdict] }}
            />
          </svg>
          {word(verdict)}
        </li>
      ))}
    </ul>
  )
}

/** The scale that velocities are shaded by, with its ends. */
export function ShadeScale({ range }: { range: ShadeRange }) {
  const t = useSay()
  const formatter = useFormatter()
  const steps = Array.from({ length: STEPS }, (_, index) => range.lowMps + ((index + 0.5) / STEPS) * (range.highMps - range.lowMps))
  const low = formatter.number(range.lowMps, 'velocity')
  const high = formatter.quantity(range.highMps, 'velocity')
  return (
    <div className={styles.shade} role="img" aria-label={t('map.legend.shade', { low, high })}>
      <span>{low}</span>
      <svg width="168" height="16" aria-hidden="true">
        {steps.map((velocity, index) => (
          <rect key={velocity} x={index * 7} width="7.5" height="16" fill={shadeOf(velocity, range).fill} />
        ))}
      </svg>
      <span>{high}</span>
    </div>
  )
}
