import type { EntityChange } from '#core/api/entities.ts'
import { proposedMinimum } from '#core/criteria/required-minima.ts'
import type { CommandName } from '#core/model/audit.ts'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import type { Hazard } from '#core/model/places.ts'
import { checkBody } from '#core/model/rules.ts'
import { CleanlinessClass, type Entered, OccupancyState } from '#core/model/values.ts'
import { planAreaM2, roomVolumeM3 } from '#core/rooms/geometry.ts'
import { useFormatter, useProject, useSay } from '#renderer/app/session.tsx'
import { Why } from '#renderer/app/why.tsx'
import { Checkbox } from '#renderer/ui/checkbox.tsx'
import { Facts } from '#renderer/ui/panel.tsx'
import { Select } from '#renderer/ui/select.tsx'
import type { RoomPlan } from '../room-plan.ts'
import { CommittedEntered, CommittedNumber, CommittedText, type Refusal } from './committed-fields.tsx'
import { ShapeFields } from './outline-fields.tsx'
import { CriteriaFields } from './override-fields.tsx'
import styles from './panel.module.css'
import { edited } from './room-changes.ts'
import { StatedVolume } from './stated-volume.tsx'

type Body = EntityBody<'room'>
type RoomPanelProps = {
  plan: RoomPlan
  criteriaSets: readonly Entity<'criteria_set'>[]
  change: (name: CommandName, changes: readonly EntityChange[], reason?: string) => void
}

const HAZARDS: readonly Hazard[] = ['sterile', 'hazardous_drug', 'biological', 'aerosol']

/** Properties of the room itself, shown while nothing on its plan is selected. */
export function RoomPanel({ plan, criteriaSets, change }: RoomPanelProps) {
  const t = useSay()
  const formatter = useFormatter()
  const { display } = useProject().body
  const { room } = plan
  const { body } = room
  const usual = proposedMinimum(body.cleanlinessClass)
  const put = (next: Partial<Body>, name: CommandName = 'edit') => change(name, [edited(room, { ...body, ...next })])
  const refuse =
    (next: (value: Entered) => Partial<Body>) =>
    (value: Entered): Refusal =>
      checkBody('room', { ...body, ...next(value) })[0] ?? null
  const perHour = (value: number | null): Entered | null => (value === null ? null : { si: value, typed: String(value), unit: '1/h' })
  return (
    <Why title={t('map.room.title', { number: body.number, name: body.name })}>
      <div className={styles.fields}>
        <div className={styles.pair}>
          <CommittedText
            label={t('map.prop.number', {})}
            value={body.number}
            refuse={(number) => numberRefusal(number, plan)}
            onCommit={(number) => put({ number }, 'rename')}
          />
          <CommittedText label={t('map.prop.name', {})} value={body.name} onCommit={(name) => put({ name }, 'rename')} />
        </div>
        <div className={styles.pair}>
          <Select
            label={t('map.prop.class', {})}
            value={body.cleanlinessClass}
            choices={CleanlinessClass.options.map((value) => ({ value, label: t('map.class.only', { of: { cleanlinessClass: value } }) }))}
            onChange={(cleanlinessClass) => put({ cleanlinessClass })}
          />
          <Select
            label={t('map.prop.state', {})}
            value={body.occupancyState}
            choices={OccupancyState.options.map((value) => ({ value, label: t('map.occupancy', { of: { state: value } }) }))}
            onChange={(occupancyState) => put({ occupancyState })}
          />
        </div>
        <Select
          label={t('map.prop.airflow', {})}
          value={body.airflowType}
          choices={(['unidirectional', 'non_unidirectional'] as const).map((value) => ({
            value,
            label: t('map.airflow', { of: { airflow: value } }),
          }))}
          onChange={(airflowType) => put({ airflowType })}
        />
        <ShapeFields shape={body.shape} onChange={(shape) => put({ shape }, 'resize')} />
        <CommittedEntered
          label={t('map.prop.ceiling', {})}
          unit={display.length}
          value={body.ceilingHeight}
          refuse={refuse((ceilingHeight) => ({ ceilingHeight }))}
          onCommit={(ceilingHeight) => ceilingHeight && put({ ceilingHeight }, 'resize')}
        />
        <Facts
          facts={[
            [t('map.prop.area', {}), formatter.quantity(planAreaM2(body.shape), 'area')],
            [t('map.prop.volume', {}), formatter.quantity(roomVolumeM3(body), 'volume')],
          ]}
        />
        <StatedVolume
          key={body.statedVolume?.volume.typed ?? ''}
          value={body.statedVolume}
          onCommit={(statedVolume) => put({ statedVolume })}
        />
        <CommittedNumber
          label={t('measuring.volume_uncertainty', {})}
          hint={t('measuring.uncertainty_hint', {})}
          value={body.volumeUncertaintyPercent}
          least={0}
          most={50}
          optional
          onCommit={(volumeUncertaintyPercent) => put({ volumeUncertaintyPercent })}
        />
        <div className={styles.pair}>
          <CommittedEntered
            label={t('map.prop.required_changes', {})}
            unit="1/h"
            optional
            value={perHour(body.requiredAirChangesPerHour)}
            refuse={positive}
            onCommit={(value) => put({ requiredAirChangesPerHour: value?.si ?? null })}
          />
          <CommittedEntered
            label={t('map.prop.design_changes', {})}
            unit="1/h"
            optional
            value={perHour(body.designAirChangesPerHour)}
            refuse={positive}
            onCommit={(value) => put({ designAirChangesPerHour: value?.si ?? null })}
          />
        </div>
        {usual ? <p className={styles.hint}>{t('map.prop.required_usual', { perHour: usual.perHour, source: usual.source })}</p> : null}
        <CommittedEntered
          label={t('map.prop.design_velocity', {})}
          unit={display.velocity}
          optional
          value={body.designVelocity}
          refuse={refuse((designVelocity) => ({ designVelocity }))}
          onCommit={(designVelocity) => put({ designVelocity })}
        />
        <CriteriaFields
          sets={criteriaSets}
          criteriaSetId={body.criteriaSetId}
          overrides={body.overrides}
          noneLabel={t('map.criteria.none', {})}
          onSet={(criteriaSetId) => put({ criteriaSetId, overrides: [] })}
          onOverrides={(overrides) => put({ overrides })}
        />
        <fieldset className={styles.group}>
          <legend>{t('map.prop.hazards', {})}</legend>
          <div className={styles.checks}>
            {HAZARDS.map((hazard) => (
              <Checkbox
                key={hazard}
                label={t('map.hazard', { of: { hazard } })}
                checked={body.hazards.includes(hazard)}
                onChange={(on) => put({ hazards: HAZARDS.filter((one) => (one === hazard ? on : body.hazards.includes(one))) })}
              />
            ))}
          </div>
        </fieldset>
        <Checkbox label={t('map.prop.in_use', {})} checked={body.inUse} onChange={(inUse) => put({ inUse })} />
        <CommittedText label={t('map.prop.note', {})} lines={3} value={body.note} onCommit={(note) => put({ note })} />
      </div>
    </Why>
  )
}

const positive = (value: Entered): Refusal => (value.si > 0 ? null : { code: 'rule.above_zero', params: {} })

function numberRefusal(number: string, plan: RoomPlan): Refusal {
  if (number === '') return { code: 'map.field.empty', params: {} }
  return plan.neighbours.some((room) => room.body.number === number) ? { code: 'map.room.number_taken', params: { number } } : null
}
