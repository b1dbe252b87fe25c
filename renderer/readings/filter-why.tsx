import { useQuery } from '@tanstack/react-query'
import { memo } from 'react'
import { Link } from 'wouter'
import { heldCriterion } from '#core/criteria/held-criterion.ts'
import { limitsHeld } from '#core/criteria/limits-held.ts'
import type { CriterionResult, FilterResult, History, Sentence, ZoneResult } from '#core/model/results.ts'
import type { MeasuringPlane, Uuid } from '#core/model/values.ts'
import { orpc } from '../app/client.ts'
import { useFormatter, useSay, useSentence } from '../app/session.tsx'
import { BudgetButton } from '../budgets/budget-button.tsx'
import { Icon } from '../ui/icon.tsx'
import { MarginBar } from '../ui/margin-bar.tsx'
import { Facts } from '../ui/panel.tsx'
import { VerdictMark } from '../ui/verdict-mark.tsx'
import { BasisTable } from './basis-table.tsx'
import styles from './filter-why.module.css'
import { HistoryLine } from './history-line.tsx'
import { ReadingsTable } from './readings-table.tsx'
import type { FilterView, RunDesk } from './run-desk.ts'
import { designVelocityMps, type FilterPlan, type RunPlan } from './run-plan.ts'
import type { HandInstrument } from './use-hand-instrument.ts'
import type { LiveFilter } from './use-live-filter.ts'

type FilterWhyProps = { desk: RunDesk; plan: RunPlan; view: FilterView; live: LiveFilter; instruments: readonly HandInstrument[] }

/** Why the filter stands as it does: each criterion with its margin, earlier years, and every reading it rests on. */
export const FilterWhy = memo(function FilterWhy({ desk, plan, view, live, instruments }: FilterWhyProps) {
  const t = useSay()
  const { filter } = view
  const design = designVelocityMps(plan, filter)
  const terminal = filter.terminal.body
  const { result, zone } = live
  const criteria = (result ?? zone)?.criteria ?? NONE
  const planeWords = (plane: MeasuringPlane) =>
    plane.kind === 'filter_face'
      ? t('readings.before.plane_face', { distanceM: plane.distanceM })
      : t('readings.before.plane_height', { heightM: plane.heightM })
  return (
    <>
      <div className={styles.facts}>
        {plan.run.body.method === 'face_velocity_grid' ? null : <p>{t('ways.of', { of: { way: filter.way } })}</p>}
        {filter.way === 'plane' ? <p>{planeWords(plan.run.body.plane)}</p> : null}
        {design !== null ? <p>{t('readings.why.design', { designMps: design })}</p> : null}
        {terminal.designFlow ? <p>{t('ways.design_flow', { flowM3ps: terminal.designFlow.si })}</p> : null}
        {filter.way === 'duct_traverse' ? null : <p>{t('readings.why.area', { areaM2: terminal.effectiveArea.si })}</p>}
        {filter.element ? (
          <p>{t('readings.why.element', { serial: filter.element.body.serialNumber, installedOn: filter.element.body.installedOn })}</p>
        ) : null}
      </div>
      {filter.carried === null ? null : <p>{t('ways.carried', { tag: terminal.tag, reason: filter.carried })}</p>}
      <Sureness runId={plan.runId} result={result} zone={zone} />
      <Criteria criteria={criteria} notes={result?.notes ?? NO_NOTES} />
      <BasisTable byBasis={(result ?? zone)?.byBasis ?? null} air={live.air} criteria={criteria} flow={zone === null} />
      {zone ? null : <EarlierYears filter={filter} runId={plan.runId} result={result} />}
      <ReadingsTable desk={desk} view={view} instruments={instruments} />
    </>
  )
})

const NONE: readonly CriterionResult[] = []
const NO_NOTES: readonly Sentence[] = []

/** U and k of the figures, with the budgets behind them. */
function Sureness({ runId, result, zone }: { runId: Uuid; result: FilterResult | null; zone: ZoneResult | null }) {
  const t = useSay()
  const f = useFormatter()
  if (zone?.uncertainty) {
    const of = { runId, subjectId: zone.zoneId, subject: zone.name }
    return (
      <Facts
        facts={[
          [
            t('budget.figure', { figure: 'mean_velocity' }),
            <span key="mean">
              {f.quantity(zone.meanVelocityMps, 'velocity', { heldAgainst: limitsHeld(zone.criteria, 'face_velocity') })}{' '}
              <BudgetButton {...of} figure="mean_velocity" dimension="velocity" uncertainty={zone.uncertainty} />
            </span>,
          ],
        ]}
      />
    )
  }
  if (!result?.uncertainty) return null
  const { meanVelocity, flow, percentOfDesign } = result.uncertainty
  const of = { runId, subjectId: result.terminalId, subject: result.tag }
  return (
    <Facts
      facts={[
        ...(meanVelocity
          ? [
              [
                t('budget.figure', { figure: 'mean_velocity' }),
                <span key="mean">
                  {f.quantity(result.meanVelocityMps, 'velocity', { heldAgainst: limitsHeld(result.criteria, 'face_velocity') })}{' '}
                  <BudgetButton {...of} figure="mean_velocity" dimension="velocity" uncertainty={meanVelocity} />
                </span>,
              ] as const,
            ]
          : []),
        [
          t('budget.figure', { figure: 'flow' }),
          <span key="flow">
            {f.quantity(result.flowM3ps, 'flow', { heldAgainst: limitsHeld(result.criteria, 'flow') })}{' '}
            <BudgetButton {...of} figure="flow" dimension="flow" uncertainty={flow} />
          </span>,
        ],
        [
          t('budget.figure', { figure: 'percent_of_design' }),
          <span key="design">
            {f.quantity(result.percentOfDesign, 'percent')}{' '}
            <BudgetButton {...of} figure="percent_of_design" dimension="percent" uncertainty={percentOfDesign} />
          </span>,
        ],
      ]}
    />
  )
}

function Criteria({ criteria: all, notes }: { criteria: readonly CriterionResult[]; notes: readonly Sentence[] }) {
  const t = useSay()
  const sentence = useSentence()
  const criteria = all.filter((criterion) => criterion.verdict !== 'not_applicable')
  return (
    <section className={styles.part}>
      <h3>{t('readings.why.criteria', {})}</h3>
      {criteria.length === 0 ? <p className={styles.quiet}>{t('readings.why.no_criteria', {})}</p> : null}
      {criteria.map((criterion) => (
        <div key={`${criterion.key} ${criterion.scope}`} className={styles.criterion}>
          <p className={styles.criterionHead}>
            <span>{t('criterion.named', heldCriterion(criterion))}</span>
            <VerdictMark verdict={criterion.verdict} />
          </p>
          <CriterionBar criterion={criterion} />
          {criterion.dimension === 'percent' ? null : (
            <p className={styles.quiet}>{t('ways.basis.criterion', { of: { basis: criterion.basis } })}</p>
          )}
          <p className={styles.reason}>{sentence(criterion.reason)}</p>
        </div>
      ))}
      {notes.map((note) => (
        <p key={note.code} className={styles.reason}>
          {sentence(note)}
        </p>
      ))}
    </section>
  )
}

/** The criterion's value against its limits, in the unit the limit was written in. */
function CriterionBar({ criterion }: { criterion: CriterionResult }) {
  const t = useSay()
  const f = useFormatter()
  const { value, low, high, dimension, unit, verdict } = criterion
  if (value === null || (low === null && high === null)) return null
  const shown = (si: number) => f.quantity(si, dimension, { unit })
  const limits =
    low !== null && high !== null
      ? t('readings.why.between', { low: shown(low), high: shown(high) })
      : low !== null
        ? t('readings.why.at_least', { low: shown(low) })
        : t('readings.why.at_most', { high: shown(high ?? 0) })
  return (
    <div className={styles.bar}>
      <MarginBar value={value} low={low} high={high} verdict={verdict} label={t('readings.why.bar', { value: shown(value), limits })} />
      <span className={styles.limits}>
        <strong>{shown(value)}</strong> {t('readings.why.against', { limits })}
      </span>
    </div>
  )
}

type EarlierYearsProps = { filter: FilterPlan; runId: Uuid; result: FilterResult | null }

/** The mean of a face over the years; of anything else its flow. */
function EarlierYears({ filter, runId, result }: EarlierYearsProps) {
  const t = useSay()
  const f = useFormatter()
  const { terminalId } = filter
  const { tag } = filter.terminal.body
  const quantity = filter.way === 'face_grid' ? ('face_velocity' as const) : ('flow' as const)
  const dimension = quantity === 'flow' ? 'flow' : 'velocity'
  const now = (quantity === 'flow' ? result?.flowM3ps : result?.meanVelocityMps) ?? null
  const history = useQuery(orpc.compare.history.queryOptions({ input: { subjectId: terminalId, quantity } }))
  const last = history.data ? lastBefore(history.data, runId) : null
  // What was stored of this run may be older than what stands on the screen.
  const shown = history.data ? withFigure(history.data, runId, now) : null
  return (
    <section className={styles.part}>
      <h3>{t('readings.why.history', {})}</h3>
      {history.data && !last ? <p className={styles.quiet}>{t('readings.why.no_history', {})}</p> : null}
      {last ? (
        <p className={styles.lastYear}>
          {quantity === 'flow'
            ? t('ways.last_flow', { label: last.label, value: last.value })
            : t('readings.why.last_year', { label: last.label, value: last.value })}
          {now !== null && last.value !== null && last.value !== 0 ? (
            <strong>{t('readings.why.since', { percent: (100 * (now - last.value)) / last.value })}</strong>
          ) : null}
        </p>
      ) : null}
      {shown && shown.points.length > 0 ? (
        <Link href={`/history/${terminalId}`} className={styles.historyLink}>
          <HistoryLine
            history={shown}
            label={t(quantity === 'flow' ? 'ways.flow_chart' : 'readings.why.history_chart', { tag, points: shown.points.length })}
          />
          <span>
            {shown.points
              .slice(-4)
              .map((point) => f.number(point.value, dimension))
              .join(' · ')}
          </span>
          <Icon name="right" size={15} />
        </Link>
      ) : null}
    </section>
  )
}

/** A history whose figure of one run is this one. */
function withFigure(history: History, runId: Uuid, value: number | null): History {
  return { ...history, points: history.points.map((point) => (point.runId === runId ? { ...point, value } : point)) }
}

/** The newest point of an earlier visit: not of this run, nor of its own visit's other phase. */
export function lastBefore(history: History, runId: Uuid): History['points'][number] | null {
  const here = history.points.find((point) => point.runId === runId)
  const others = history.points.filter(
    (point) => point.value !== null && point.runId !== runId && point.certificationId !== here?.certificationId,
  )
  const before = here ? others.filter((point) => point.on <= here.on) : others
  return before.at(-1) ?? null
}
