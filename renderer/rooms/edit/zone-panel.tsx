import type { EntityChange } from '#core/api/entities.ts'
import type { CommandName } from '#core/model/audit.ts'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import { checkBody, checkZoneInRoom } from '#core/model/rules.ts'
import { CleanlinessClass, OccupancyState, type PlanPoint } from '#core/model/values.ts'
import { useProject, useSay, useSentence } from '#renderer/app/session.tsx'
import { Why } from '#renderer/app/why.tsx'
import { Button } from '#renderer/ui/button.tsx'
import { Select } from '#renderer/ui/select.tsx'
import type { RoomPlan } from '../room-plan.ts'
import { CommittedEntered, CommittedText } from './committed-fields.tsx'
import { CornerFields } from './outline-fields.tsx'
import { CriteriaFields } from './override-fields.tsx'
import styles from './panel.module.css'
import { edited, gatheredInto, removedZone } from './room-changes.ts'

type ZonePanelProps = {
  plan: RoomPlan
  zone: Entity<'zone'>
  criteriaSets: readonly Entity<'criteria_set'>[]
  change: (name: CommandName, changes: readonly EntityChange[], reason?: string) => void
}

/** Properties of a unidirectional zone. */
export function ZonePanel({ plan, zone, criteriaSets, change }: ZonePanelProps) {
  const t = useSay()
  const sentence = useSentence()
  const { display } = useProject().body
  const { body } = zone
  const put = (next: Partial<EntityBody<'zone'>>, name: CommandName = 'edit') => change(name, [edited(zone, { ...body, ...next })])
  const reshape = (boundary: PlanPoint[]) =>
    change('resize', [edited(zone, { ...body, boundary }), ...gatheredInto(zone.id, boundary, plan.terminals)])
  const members = plan.terminals.filter((terminal) => terminal.body.zoneId === zone.id).length
  const gather = gatheredInto(zone.id, body.boundary, plan.terminals)
  return (
    <Why title={body.name}>
      <div className={styles.fields}>
        <CommittedText
          label={t('map.prop.name', {})}
          value={body.name}
          refuse={(name) => (name === '' ? { code: 'map.field.empty', params: {} } : null)}
          onCommit={(name) => put({ name }, 'rename')}
        />
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
        <CommittedEntered
          label={t('map.prop.design_velocity', {})}
          unit={display.velocity}
          optional
          value={body.designVelocity}
          refuse={(designVelocity) => checkBody('zone', { ...body, designVelocity })[0] ?? null}
          onCommit={(designVelocity) => put({ designVelocity })}
        />
        <fieldset className={styles.group}>
          <legend>{t('map.zone.boundary', {})}</legend>
          <CornerFields corners={body.boundary} onChange={reshape} />
          {checkZoneInRoom(body, plan.room.body).map((outside) => (
            <p key={outside.field} className={styles.error}>
              {sentence(outside)}
            </p>
          ))}
        </fieldset>
        <p className={styles.hint}>{t('map.zone.members', { n: members })}</p>
        <Button disabled={gather.length === 0} onClick={() => change('edit', gather)}>
          {t('map.zone.gather', {})}
        </Button>
        <CriteriaFields
          sets={criteriaSets}
          criteriaSetId={body.criteriaSetId}
          overrides={body.overrides}
          noneLabel={t('map.criteria.as_room', {})}
          onSet={(criteriaSetId) => put({ criteriaSetId, overrides: [] })}
          onOverrides={(overrides) => put({ overrides })}
        />
        <CommittedText label={t('map.prop.note', {})} lines={2} value={body.note} onCommit={(note) => put({ note })} />
        <Button kind="danger" icon="remove" onClick={() => change('remove', removedZone(zone, plan.terminals))}>
          {t('map.edit.remove', {})}
        </Button>
      </div>
    </Why>
  )
}
