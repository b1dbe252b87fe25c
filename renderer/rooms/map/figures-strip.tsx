import type { ReactNode } from 'react'
import { limitsHeld } from '#core/criteria/limits-held.ts'
import type { BudgetFigure } from '#core/model/budgets.ts'
import type { Entity } from '#core/model/entities.ts'
import type { CriterionResult, RunResult, Uncertainty } from '#core/model/results.ts'
import type { Dimension } from '#core/model/values.ts'
import { useFormatter, useSay, useSentence } from '#renderer/app/session.tsx'
import { BudgetButton } from '#renderer/budgets/budget-button.tsx'
import { MarginBar } from '#renderer/ui/margin-bar.tsx'
import { VerdictMark } from '#renderer/ui/verdict-mark.tsx'
import styles from './figures-strip.module.css'

type FiguresStripProps = { room: Entity<'room'>; result: RunResult | null }

/** The room's own figures in a row: number, unit, what it is held against. */
export function FiguresStrip({ room, result }: FiguresStripProps) {
  const t = useSay()
  const sentence = useSentence()
  const formatter = useFormatter()
  const figures = result?.room ?? null
  const criterion = (quantity: CriterionResult['quantity']) =>
    result?.roomCriteria.find((candidate) => candidate.quantity === quantity && candidate.verdict !== 'not_applicable') ??
    result?.zones
      .flatMap((zone) => zone.criteria)
      .find((candidate) => candidate.quantity === quantity && candidate.verdict !== 'not_applicable') ??
    null
  const sure = (figure: BudgetFigure, dimension: Dimension, uncertainty: Uncertainty | null) =>
    result ? (
      <BudgetButton
        runId={result.runId}
        subjectId={room.id}
        subject={room.body.number}
        figure={figure}
        dimension={dimension}
        uncertainty={uncertainty}
      />
    ) : null
  const plane = result?.zones.find(({ planeCells }) => planeCells.length > 0) ?? null
  const soFar = figures && figures.supplyFlowM3ps === null && figures.supplySoFar.of > 0 ? figures.supplySoFar : null
  return (
    <section className={styles.strip} aria-label={t('map.figures', {})}>
      <div className={styles.verdict}>
        <VerdictMark verdict={result?.verdict ?? 'not_tested'} look="chip" />
        <p>{result ? sentence(result.headline) : t('map.figures.no_run', {})}</p>
      </div>
      {/* A plane tells no flow. */}
      {plane ? null : (
        <>
          <RoomFigure
            label={t('map.figure.supply', {})}
            value={figures?.supplyFlowM3ps ?? null}
            sure={sure('flow', 'flow', figures?.uncertainty?.supplyFlow ?? null)}
            dimension="flow"
            criterion={criterion('flow')}
            note={
              soFar
                ? t('map.figure.so_far', { flow: soFar.flowM3ps, n: soFar.terminals, of: soFar.of })
                : figures?.designFlowM3ps != null
                  ? t('map.figure.design', { design: formatter.quantity(figures.designFlowM3ps, 'flow') })
                  : ''
            }
          />
          <RoomFigure
            label={t('map.figure.air_changes', {})}
            value={figures?.airChangesPerHour ?? null}
            sure={sure('air_changes', 'air_change_rate', figures?.uncertainty?.airChanges ?? null)}
            dimension="air_change_rate"
            criterion={criterion('air_changes')}
            note={t('map.figure.required_design', {
              required: room.body.requiredAirChangesPerHour,
              design: room.body.designAirChangesPerHour,
            })}
          />
        </>
      )}
      <RoomFigure
        label={t('map.figure.mean', {})}
        value={(plane ? plane.meanVelocityMps : figures?.areaWeightedMeanVelocityMps) ?? null}
        dimension="velocity"
        criterion={criterion('face_velocity')}
        note={
          room.body.designVelocity ? t('map.figure.design', { design: formatter.quantity(room.body.designVelocity.si, 'velocity') }) : ''
        }
      />
      <RoomFigure
        label={t('map.figure.spread', {})}
        value={(plane ? plane.relativeStandardDeviationPercent : figures?.filterToFilterRsdPercent) ?? null}
        dimension="percent"
        criterion={criterion('filter_to_filter_spread') ?? criterion('velocity_spread')}
        note={plane ? t('plane.spread_note', {}) : t('map.figure.spread.note', {})}
      />
    </section>
  )
}

type RoomFigureProps = {
  label: string
  value: number | null
  /** U and k beside the value, which open the budget */
  sure?: ReactNode
  dimension: Dimension
  criterion: CriterionResult | null
  note: string
}

function RoomFigure({ label, value, sure, dimension, criterion, note }: RoomFigureProps) {
  const sentence = useSentence()
  const formatter = useFormatter()
  const limited = criterion !== null && (criterion.low !== null || criterion.high !== null)
  return (
    <div className={styles.figure}>
      <span className={styles.label}>
        {label}
        {criterion ? <VerdictMark verdict={criterion.verdict} look="shape" /> : null}
      </span>
      <span className={styles.value}>
        {formatter.number(value, dimension, { heldAgainst: criterion ? limitsHeld([criterion], criterion.quantity) : [] })}
        <span className={styles.unit}> {formatter.unit(dimension)}</span>
      </span>
      {sure}
      {limited ? (
        <MarginBar
          value={criterion.value}
          low={criterion.low}
          high={criterion.high}
          verdict={criterion.verdict}
          label={sentence(criterion.reason)}
        />
      ) : null}
      {note === '' ? null : <span className={styles.note}>{note}</span>}
    </div>
  )
}
