import { useState } from 'react'
import type { Entered } from '#core/model/values.ts'
import { speedAnswer, speedFilters } from '#core/rooms/what-if-of-run.ts'
import { useFormatter, useSay } from '../app/session.tsx'
import forms from '../forms/forms.module.css'
import { Button } from '../ui/button.tsx'
import { Checkbox } from '../ui/checkbox.tsx'
import { DataTable } from '../ui/data-table.tsx'
import { EnteredField } from '../ui/entered-field.tsx'
import { Figure } from '../ui/figure.tsx'
import { percentThatReaches } from './speed-percent.ts'
import styles from './what-if.module.css'
import type { WhatIfProps } from './what-if-dialog.tsx'

const PROPOSED_PERCENT = 5
const asEntered = (percent: number): Entered => ({ si: percent, typed: String(percent), unit: '%' })

/** A change of fan speed over a group of filters, and what the room would then be. */
export function SpeedOfGroup({ result, terminals }: WhatIfProps) {
  const t = useSay()
  const f = useFormatter()
  const filters = speedFilters(result, terminals)
  const fans = filters.filter(({ isFan }) => isFan).map(({ terminalId }) => terminalId)
  const [group, setGroup] = useState<ReadonlySet<string>>(new Set(fans.length > 0 ? fans : filters.map(({ terminalId }) => terminalId)))
  const [percent, setPercent] = useState<Entered | null>(asEntered(PROPOSED_PERCENT))
  // A proposal taken over also empties what the field remembers of the typing.
  const [taken, setTaken] = useState(0)
  const answer = speedAnswer(result, terminals, group, 1 + (percent?.si ?? 0) / 100)
  if (!answer) return <p>{t('whatif.speed.incomplete', {})}</p>
  const tags = new Map(filters.map(({ terminalId, tag }) => [terminalId, tag]))
  const pick = (id: string, on: boolean) => setGroup(new Set(on ? [...group, id] : [...group].filter((one) => one !== id)))
  const fromTo = (from: number | null, to: number | null, dimension: 'flow' | 'air_change_rate') =>
    t('whatif.speed.from_to', { from: f.number(from, dimension), to: f.number(to, dimension) })
  return (
    <div className={forms.stack}>
      <p>{t('whatif.speed.about', {})}</p>
      <div className={styles.controls}>
        <EnteredField
          key={taken}
          label={t('whatif.speed.percent', {})}
          unit="%"
          value={percent}
          onChange={(value, valid) => setPercent(valid ? value : null)}
        />
        <Button disabled={fans.length === 0} onClick={() => setGroup(new Set(fans))}>
          {t('whatif.speed.fans', {})}
        </Button>
        <Button onClick={() => setGroup(new Set(tags.keys()))}>{t('whatif.speed.all', {})}</Button>
        <Button onClick={() => setGroup(new Set())}>{t('whatif.speed.none', {})}</Button>
        {answer.ratioForLimit.map(({ question, ratio }) =>
          ratio === null ? null : (
            <Button
              key={question.criterion.key}
              onClick={() => {
                setPercent(asEntered(percentThatReaches(ratio)))
                setTaken(taken + 1)
              }}
            >
              {t('whatif.speed.to_limit', { title: question.criterion.title, percent: percentThatReaches(ratio) })}
            </Button>
          ),
        )}
      </div>
      <div className={styles.figures}>
        <Figure
          label={t('whatif.speed.supply', {})}
          value={fromTo(answer.change.supplyBeforeM3ps, answer.change.supplyAfterM3ps, 'flow')}
          unit={f.unit('flow')}
          size="large"
        />
        <Figure
          label={t('whatif.speed.air_changes', {})}
          value={fromTo(answer.airChangesBefore, answer.airChangesAfter, 'air_change_rate')}
          unit={f.unit('air_change_rate')}
          size="large"
        />
      </div>
      <DataTable
        caption={t('whatif.kind.speed', {})}
        rows={answer.change.filters}
        rowKey={({ terminalId }) => terminalId}
        columns={[
          {
            key: 'group',
            heading: t('whatif.speed.group', {}),
            cell: ({ terminalId, inGroup }) => (
              <Checkbox
                label={<span className="visually-hidden">{t('whatif.speed.pick', { tag: tags.get(terminalId) ?? '' })}</span>}
                checked={inGroup}
                onChange={(on) => pick(terminalId, on)}
              />
            ),
          },
          { key: 'filter', heading: t('whatif.filter', {}), rowHeading: true, cell: ({ terminalId }) => tags.get(terminalId) },
          { key: 'now', heading: t('whatif.now', {}), unit: f.unit('flow'), number: true, cell: (row) => f.number(row.beforeM3ps, 'flow') },
          {
            key: 'then',
            heading: t('whatif.then', {}),
            unit: f.unit('flow'),
            number: true,
            cell: (row) => f.number(row.afterM3ps, 'flow'),
          },
          {
            key: 'velocity',
            heading: t('whatif.velocity', {}),
            unit: f.unit('velocity'),
            number: true,
            cell: (row) => f.number(row.afterVelocityMps, 'velocity'),
          },
          {
            key: 'answer',
            heading: t('whatif.answer', {}),
            cell: ({ terminalId }) => (answer.outsideLimits.has(terminalId) ? t('whatif.speed.outside', {}) : t('whatif.possible', {})),
          },
        ]}
      />
    </div>
  )
}
