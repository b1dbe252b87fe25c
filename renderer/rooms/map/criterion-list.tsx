import { heldCriterion } from '#core/criteria/held-criterion.ts'
import { worseThan } from '#core/criteria/roll-up.ts'
import type { CriterionResult } from '#core/model/results.ts'
import { useSay, useSentence } from '#renderer/app/session.tsx'
import { MarginBar } from '#renderer/ui/margin-bar.tsx'
import { VerdictMark } from '#renderer/ui/verdict-mark.tsx'
import styles from './why.module.css'

/** Every criterion with its verdict, its margin as a bar, and the reason in a sentence; the worst first. */
export function CriterionList({ criteria }: { criteria: readonly CriterionResult[] }) {
  const t = useSay()
  const sentence = useSentence()
  const sorted = criteria.toSorted((a, b) => worseThan(b.verdict, a.verdict))
  if (sorted.length === 0) return null
  return (
    <ul className={styles.criteria} aria-label={t('map.why.criteria', {})}>
      {sorted.map((criterion) => (
        <li key={`${criterion.key} ${criterion.subjectId} ${criterion.point ?? ''}`}>
          <VerdictMark verdict={criterion.verdict} prefix={t('map.why.criterion', heldCriterion(criterion))} />
          {criterion.low !== null || criterion.high !== null ? (
            <MarginBar
              value={criterion.value}
              low={criterion.low}
              high={criterion.high}
              verdict={criterion.verdict}
              label={sentence(criterion.reason)}
            />
          ) : null}
          <p>{sentence(criterion.reason)}</p>
        </li>
      ))}
    </ul>
  )
}
