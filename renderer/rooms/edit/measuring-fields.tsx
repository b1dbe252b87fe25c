import { useQuery } from '@tanstack/react-query'
import { proposedWay, wayOf } from '#core/methods/airflow/ways.ts'
import type { CommandName } from '#core/model/audit.ts'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import { checkBody } from '#core/model/rules.ts'
import type { FlowWay } from '#core/model/terminals.ts'
import { orpc } from '#renderer/app/client.ts'
import { useSay } from '#renderer/app/session.tsx'
import { Button } from '#renderer/ui/button.tsx'
import { Checkbox } from '#renderer/ui/checkbox.tsx'
import { Select } from '#renderer/ui/select.tsx'
import type { RoomPlan } from '../room-plan.ts'
import { ofKind } from '../room-plan.ts'
import { CommittedNumber, type Refusal } from './committed-fields.tsx'
import { freshDuct, freshFlowElement } from './duct-changes.ts'
import { DuctFields } from './duct-fields.tsx'
import { FlowElementFields } from './flow-element-fields.tsx'
import styles from './panel.module.css'

type Body = EntityBody<'terminal'>
type MeasuringFieldsProps = {
  plan: RoomPlan
  terminals: readonly Entity<'terminal'>[]
  common: <V>(pick: (body: Body) => V) => V | null
  all: (name: CommandName, next: (body: Body) => Body) => void
}

const PROPOSED = 'proposed'
const NO_SYSTEM = 'none'
const WAYS: readonly FlowWay[] = ['face_grid', 'hood', 'duct_traverse', 'flow_element']

/** How the air of the selected terminals is measured, which fan moves it, and how well its area is known. */
export function MeasuringFields({ plan, terminals, common, all }: MeasuringFieldsProps) {
  const t = useSay()
  const systems = useQuery(orpc.entities.list.queryOptions({ input: { kinds: ['air_system'], within: plan.facility.id } }))
  const [first] = terminals
  if (!first) return null
  const { body } = first
  const way = common((one) => one.measuredBy ?? PROPOSED)
  const offered = WAYS.filter((one) => (one === 'duct_traverse' ? body.duct : one === 'flow_element' ? body.flowElement : isFace(body)))
  const proposed = new Set(terminals.map((terminal) => proposedWay(terminal.body)))
  const unsuited = wayOf(body) === 'face_grid' && ['swirl', 'louvre', 'grille'].includes(body.face)
  const refusal = (next: Body): Refusal => checkBody('terminal', next)[0] ?? null
  return (
    <>
      <fieldset className={styles.group}>
        <legend>{t('measuring.title', {})}</legend>
        <Select
          label={t('measuring.way', {})}
          value={way}
          placeholder={t('map.edit.differ', {})}
          choices={[
            {
              value: PROPOSED,
              label:
                proposed.size > 1 ? t('measuring.way.proposed_each', {}) : t('measuring.way.proposed', { of: { way: proposedWay(body) } }),
            },
            ...offered.map((one) => ({ value: one, label: t('measuring.way.choice', { of: { way: one } }) })),
          ]}
          onChange={(next) => all('edit', (one) => ({ ...one, measuredBy: next === PROPOSED ? null : next }))}
        />
        {unsuited ? <p className={styles.error}>{t('measuring.way.swirl', { of: body })}</p> : null}
        <Select
          label={t('measuring.system', {})}
          value={common((one) => one.airSystemId ?? NO_SYSTEM)}
          placeholder={t('map.edit.differ', {})}
          choices={[
            { value: NO_SYSTEM, label: t('measuring.no_system', {}) },
            ...ofKind(systems.data ?? [], 'air_system').map((system) => ({ value: system.id, label: system.body.name })),
          ]}
          onChange={(id) => all('edit', (one) => ({ ...one, airSystemId: id === NO_SYSTEM ? null : id }))}
        />
        <Checkbox
          label={t('measuring.adjustable', {})}
          checked={common((one) => one.adjustable) ?? false}
          mixed={common((one) => one.adjustable) === null}
          onChange={(adjustable) => all('edit', (one) => ({ ...one, adjustable }))}
        />
        <CommittedNumber
          label={t('measuring.area_uncertainty', {})}
          hint={t('measuring.uncertainty_hint', {})}
          value={common((one) => one.areaUncertaintyPercent)}
          least={0}
          most={50}
          optional
          onCommit={(areaUncertaintyPercent) => all('edit', (one) => ({ ...one, areaUncertaintyPercent }))}
        />
        <div className={styles.actions}>
          {common((one) => one.duct) === null && terminals.length === 1 ? (
            <Button icon="add" onClick={() => all('edit', (one) => ({ ...one, duct: freshDuct(one) }))}>
              {t('measuring.duct.describe', {})}
            </Button>
          ) : null}
          {common((one) => one.flowElement) === null && terminals.length === 1 ? (
            <Button icon="add" onClick={() => all('edit', (one) => ({ ...one, flowElement: freshFlowElement(one.grossWidth) }))}>
              {t('measuring.element.describe', {})}
            </Button>
          ) : null}
        </div>
      </fieldset>
      {terminals.length === 1 && body.duct ? (
        <DuctFields
          tag={body.tag}
          duct={body.duct}
          refuse={(duct) => refusal({ ...body, duct })}
          onCommit={(duct) => all('edit', (one) => ({ ...one, duct }))}
        />
      ) : null}
      {terminals.length === 1 && body.flowElement ? (
        <FlowElementFields
          key={body.flowElement.kind}
          element={body.flowElement}
          refuse={(flowElement) => refusal({ ...body, flowElement })}
          onCommit={(flowElement) => all('edit', (one) => ({ ...one, flowElement }))}
        />
      ) : null}
    </>
  )
}

function isFace({ kind }: Body): boolean {
  return kind !== 'duct_section'
}
