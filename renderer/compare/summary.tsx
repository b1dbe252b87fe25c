import type { Comparison, ComparisonRow } from '#core/model/results.ts'
import { useSay, useSentence } from '../app/session.tsx'
import { Icon, type IconName } from '../ui/icon.tsx'
import { Panel } from '../ui/panel.tsx'
import { VerdictShape } from '../ui/verdict-mark.tsx'
import { WholeTags } from '../ui/whole-tags.tsx'
import styles from './compare.module.css'
import { keyOf } from './row-filter.ts'
import { evidenceOf, weightOf } from './summary-evidence.ts'

const ICON: Readonly<Record<string, IconName>> = {
  'summary.retested': 'redo',
  'summary.air_changes_fell': 'down',
  'summary.loading': 'down',
  'summary.replaced': 'replaced',
  'summary.instruments': 'gauge',
  'summary.criteria': 'criteria',
  'summary.nothing': 'check',
}

type SummaryProps = {
  comparison: Comparison
  /** shows only the rows that a line speaks of */
  onShow: (rows: readonly ComparisonRow[]) => void
  shown: ReadonlySet<string> | null
}

/** What a reader has to know, without a click; each line opens onto its rows. */
export function Summary({ comparison, onShow, shown }: SummaryProps) {
  const t = useSay()
  const sentence = useSentence()
  return (
    <Panel title={t('compare.summary', {})} flush>
      <ul className={styles.summary}>
        {comparison.summary.map((line) => {
          const text = sentence(line)
          const evidence = evidenceOf(line, comparison.rows)
          const isShown = shown !== null && evidence.length === shown.size && evidence.every((row) => shown.has(keyOf(row)))
          const content = (
            <>
              <Sign code={line.code} />
              <span>
                <WholeTags text={text} />
              </span>
            </>
          )
          return (
            <li key={text}>
              {evidence.length > 0 ? (
                <button
                  type="button"
                  className={styles.line}
                  data-weight={weightOf(line.code)}
                  aria-pressed={isShown}
                  title={t('compare.summary.show', { count: evidence.length })}
                  onClick={() => onShow(evidence)}
                >
                  {content}
                  <Icon name="right" size={15} />
                </button>
              ) : (
                <p className={styles.line} data-weight={weightOf(line.code)}>
                  {content}
                </p>
              )}
            </li>
          )
        })}
      </ul>
    </Panel>
  )
}

function Sign({ code }: { code: string }) {
  if (code === 'summary.fails') return <VerdictShape verdict="fail" />
  if (code === 'summary.unsettled') return <VerdictShape verdict="not_tested" />
  return <Icon name={ICON[code] ?? 'info'} size={16} />
}
