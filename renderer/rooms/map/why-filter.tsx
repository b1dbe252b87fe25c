import { useQuery } from '@tanstack/react-query'
import { Link } from 'wouter'
import { limitsHeld } from '#core/criteria/limits-held.ts'
import type { Entity } from '#core/model/entities.ts'
import type { Location } from '#core/model/readings.ts'
import type { FilterResult, RunResult } from '#core/model/results.ts'
import type { Dimension } from '#core/model/values.ts'
import { orpc } from '#renderer/app/client.ts'
import { useFormatter, useSay, useSentence } from '#renderer/app/session.tsx'
import { Why } from '#renderer/app/why.tsx'
import { BudgetButton } from '#renderer/budgets/budget-button.tsx'
import { Facts } from '#renderer/ui/panel.tsx'
import { VerdictMark } from '#renderer/ui/verdict-mark.tsx'
import { CriterionList } from './criterion-list.tsx'
import { FaceFigure } from './face-figure.tsx'
import { isSupply } from './face-look.ts'
import { HistoryLine } from './history-line.tsx'
import { isPlane } from './shown-plane.ts'
import styles from './why.module.css'

type WhyFilterProps = {
  terminal: Entity<'terminal'>
  element: Entity<'filter_element'> | null
  run: RunResult | null
  result: FilterResult | null
  locations: readonly Location[]
}

/** Where the result keeps the uncertainty of each figure. */
const UNCERTAIN = { mean_velocity: 'meanVelocity', flow: 'flow', percent_of_design: 'percentOfDesign' } as const

/** Why a filter reads as it does: its figures, every criterion with limit and margin, and the years before. */
export function WhyFilter({ terminal, element, run, result, locations }: WhyFilterProps) {
  const t = useSay()
  const sentence = useSentence()
  const formatter = useFormatter()
  const { body, id } = terminal
  const history = useQuery(
    orpc.compare.history.queryOptions({ input: { subjectId: id, quantity: 'face_velocity' }, enabled: isSupply(body.kind) }),
  )
  const sure = (value: string, figure: keyof typeof UNCERTAIN, dimension: Dimension) =>
    run ? (
      <>
        {value}{' '}
        <BudgetButton
          runId={run.runId}
          subjectId={id}
          subject={body.tag}
          figure={figure}
          dimension={dimension}
          uncertainty={result?.uncertainty?.[UNCERTAIN[figure]] ?? null}
        />
      </>
    ) : (
      value
    )
  // A run that does not measure this terminal says nothing about it.
  const verdict = result?.verdict ?? (run || !isSupply(body.kind) ? 'not_applicable' : 'not_tested')
  const overFace = locations.length > 0 || result?.meanVelocityMps != null
  return (
    <Why title={body.tag}>
      <div className={styles.head}>
        <VerdictMark verdict={verdict} look="chip" />
        {run && result ? (
          <Link href={`/run/${run.runId}?terminal=${id}`} className={styles.open}>
            {t('map.why.open_readings', {})}
          </Link>
        ) : null}
      </div>
      {body.closed ? <p>{t('map.why.closed', { reason: body.closed.reason })}</p> : null}
      {run && !result && !body.closed ? <p>{t(isPlane(run) ? 'map.why.plane_alone' : 'map.why.not_in_run', {})}</p> : null}
      {result?.notes.map((note) => (
        <p key={note.code}>{sentence(note)}</p>
      ))}
      {locations.length > 0 ? <FaceFigure terminal={terminal} locations={locations} result={result} verdict={verdict} most={240} /> : null}
      {result ? (
        <Facts
          facts={[
            ...(overFace
              ? ([
                  [
                    t('map.figure.mean', {}),
                    sure(
                      formatter.quantity(result.meanVelocityMps, 'velocity', { heldAgainst: limitsHeld(result.criteria, 'face_velocity') }),
                      'mean_velocity',
                      'velocity',
                    ),
                  ],
                  [t('map.why.least_greatest', {}), t('map.why.span', { low: result.leastVelocityMps, high: result.greatestVelocityMps })],
                  [t('map.figure.spread', {}), formatter.quantity(result.relativeStandardDeviationPercent, 'percent')],
                  [t('map.why.largest_deviation', {}), formatter.quantity(result.largestDeviationPercent, 'percent')],
                ] as const)
              : []),
            [
              t('map.figure.flow', {}),
              sure(formatter.quantity(result.flowM3ps, 'flow', { heldAgainst: limitsHeld(result.criteria, 'flow') }), 'flow', 'flow'),
            ],
            [
              t('map.why.percent_of_design', {}),
              sure(formatter.quantity(result.percentOfDesign, 'percent'), 'percent_of_design', 'percent'),
            ],
            [t('map.why.points', {}), t('map.why.points.of', { n: result.pointsMeasured, of: result.pointsPlanned })],
          ]}
        />
      ) : null}
      {result ? <CriterionList criteria={result.criteria} /> : null}
      {history.data && history.data.points.length > 0 ? <HistoryLine history={history.data} nowRunId={run?.runId ?? null} /> : null}
      <Facts
        facts={[
          [t('map.prop.kind', {}), t('map.kind', { of: { kind: body.kind } })],
          [
            t('map.why.face_size', {}),
            `${formatter.number(body.grossWidth.si, 'length')} × ${formatter.quantity(body.grossDepth.si, 'length')}`,
          ],
          [t('map.prop.effective_area', {}), formatter.quantity(body.effectiveArea.si, 'area')],
          ...(element
            ? [
                [
                  t('map.why.element', {}),
                  t('map.why.element.since', { serial: element.body.serialNumber, since: { date: element.body.installedOn } }),
                ] as const,
              ]
            : []),
        ]}
      />
    </Why>
  )
}
