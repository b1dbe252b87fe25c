import type { EntityChange } from '#core/api/entities.ts'
import { airDirectionOf, wayOf } from '#core/methods/airflow/ways.ts'
import type { CommandName } from '#core/model/audit.ts'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import { checkBody } from '#core/model/rules.ts'
import type { Entered } from '#core/model/values.ts'
import { proposeGrid } from '#core/planning/grid.ts'
import { useFormatter, useProject, useSay } from '#renderer/app/session.tsx'
import { Why } from '#renderer/app/why.tsx'
import { Button } from '#renderer/ui/button.tsx'
import { Select } from '#renderer/ui/select.tsx'
import type { RoomPlan } from '../room-plan.ts'
import { CommittedEntered, CommittedNumber, CommittedText, type Refusal } from './committed-fields.tsx'
import { withKind } from './duct-changes.ts'
import { ElementFields } from './element-fields.tsx'
import { GridFields } from './grid-fields.tsx'
import { shownLength } from './length-entry.ts'
import { MeasuringFields } from './measuring-fields.tsx'
import styles from './panel.module.css'
import { ReasonedFactor } from './reasoned-factor.tsx'
import { resized } from './resized-face.ts'
import { edited } from './room-changes.ts'

type Body = EntityBody<'terminal'>
type TerminalPanelProps = {
  plan: RoomPlan
  terminals: readonly Entity<'terminal'>[]
  change: (name: CommandName, changes: readonly EntityChange[], reason?: string) => void
}

const KINDS = ['supply_filter', 'fan_filter_unit', 'return_grille', 'exhaust_grille', 'duct_section'] as const
const MOUNTINGS = ['ceiling', 'wall', 'duct'] as const
const FACES = ['bare', 'screen', 'swirl', 'louvre', 'grille'] as const
const SOURCES = ['air_handler', 'recirculated', 'shared_plenum', 'device'] as const
const NO_ZONE = 'none'

/** Properties of the selected filters and grilles. What is typed goes to all of them; a field where they differ stands empty. */
export function TerminalPanel({ plan, terminals, change }: TerminalPanelProps) {
  const t = useSay()
  const formatter = useFormatter()
  const { display } = useProject().body
  const first = terminals[0]
  if (!first) return null
  const single = terminals.length === 1
  const all = (name: CommandName, next: (body: Body) => Body, reason?: string) =>
    change(
      name,
      terminals.map((terminal) => edited(terminal, next(terminal.body))),
      reason,
    )
  const common = <V,>(pick: (body: Body) => V): V | null => {
    const value = pick(first.body)
    return terminals.every((terminal) => JSON.stringify(pick(terminal.body)) === JSON.stringify(value)) ? value : null
  }
  const refuse =
    (next: (value: Entered) => (body: Body) => Body) =>
    (value: Entered): Refusal =>
      terminals.map((terminal) => checkBody('terminal', next(value)(terminal.body))[0] ?? null).find((broken) => broken !== null) ?? null
  const sized =
    (size: 'grossWidth' | 'grossDepth') =>
    (value: Entered) =>
    (body: Body): Body =>
      resized(body, { [size]: value })
  const area =
    (value: Entered) =>
    (body: Body): Body => ({ ...body, effectiveArea: value })
  const grid = common((body) => body.grid)
  // What is proposed for a face speaks of one size of face.
  const alike = common(({ grossWidth, grossDepth }) => [grossWidth.si, grossDepth.si]) !== null
  const proposal = proposeGrid({ widthM: first.body.grossWidth.si, depthM: first.body.grossDepth.si })
  const gridded = terminals.some(({ body }) => wayOf(body) === 'face_grid')
  const inDuct = terminals.every(({ body }) => body.kind === 'duct_section')
  const directions = new Set(terminals.map(({ body }) => airDirectionOf(body)))
  const returnsOnly = directions.has('return') && directions.size === 1
  const lengthUnit = display.length
  const areaUnit = lengthUnit === 'm' ? 'm2' : 'ft2'
  return (
    <Why title={single ? first.body.tag : t('map.edit.several', { n: terminals.length })}>
      <div className={styles.fields}>
        {single ? (
          <CommittedText
            label={t('map.prop.tag', {})}
            value={first.body.tag}
            refuse={(tag) => tagRefusal(tag, first, plan.terminals)}
            onCommit={(tag) => all('rename', (body) => ({ ...body, tag }))}
          />
        ) : null}
        <Select
          label={t('map.prop.kind', {})}
          value={common((body) => body.kind)}
          placeholder={t('map.edit.differ', {})}
          choices={KINDS.map((kind) => ({ value: kind, label: t('map.kind', { of: { kind } }) }))}
          onChange={(kind) => all('edit', (body) => withKind(body, kind))}
        />
        <div className={styles.pair}>
          <CommittedEntered
            label={t('map.prop.x', {})}
            unit={lengthUnit}
            value={single ? shownLength(first.body.x, lengthUnit, formatter) : null}
            optional={!single}
            onCommit={(value) => value && all('move', (body) => ({ ...body, x: value.si }))}
          />
          <CommittedEntered
            label={t('map.prop.y', {})}
            unit={lengthUnit}
            value={single ? shownLength(first.body.y, lengthUnit, formatter) : null}
            optional={!single}
            onCommit={(value) => value && all('move', (body) => ({ ...body, y: value.si }))}
          />
        </div>
        <div className={styles.pair}>
          <CommittedEntered
            label={first.body.mounting === 'wall' ? t('map.prop.width_wall', {}) : t('map.prop.width', {})}
            unit={lengthUnit}
            value={common((body) => body.grossWidth)}
            refuse={refuse(sized('grossWidth'))}
            optional={!single}
            onCommit={(value) => value && all('resize', sized('grossWidth')(value))}
          />
          <CommittedEntered
            label={first.body.mounting === 'wall' ? t('map.prop.height_wall', {}) : t('map.prop.depth', {})}
            unit={lengthUnit}
            value={common((body) => body.grossDepth)}
            refuse={refuse(sized('grossDepth'))}
            optional={!single}
            onCommit={(value) => value && all('resize', sized('grossDepth')(value))}
          />
        </div>
        <CommittedEntered
          label={t('map.prop.effective_area', {})}
          hint={alike ? t('map.prop.effective_area.hint', { gross: first.body.grossWidth.si * first.body.grossDepth.si }) : undefined}
          unit={areaUnit}
          value={common((body) => body.effectiveArea)}
          refuse={refuse(area)}
          optional={!single}
          onCommit={(value) => value && all('resize', area(value))}
        />
        <CommittedNumber
          label={t('map.prop.rotation', {})}
          value={common((body) => body.rotationDegrees)}
          least={0}
          most={359.9}
          optional={!single}
          onCommit={(degrees) => degrees !== null && all('move', (body) => ({ ...body, rotationDegrees: degrees }))}
        />
        <div className={styles.pair}>
          <Select
            label={t('map.prop.mounting', {})}
            value={common((body) => body.mounting)}
            placeholder={t('map.edit.differ', {})}
            choices={MOUNTINGS.map((mounting) => ({ value: mounting, label: t('map.mounting', { of: { mounting } }) }))}
            onChange={(mounting) => all('edit', (body) => ({ ...body, mounting }))}
          />
          <Select
            label={t('map.prop.face', {})}
            value={common((body) => body.face)}
            placeholder={t('map.edit.differ', {})}
            choices={FACES.map((face) => ({ value: face, label: t('map.face.kind', { of: { face } }) }))}
            onChange={(face) => all('edit', (body) => ({ ...body, face }))}
          />
        </div>
        {first.body.mounting === 'wall' ? <p className={styles.hint}>{t('map.prop.rotation_wall', {})}</p> : null}
        {/* Exhaust air comes from the room and leaves it. */}
        {!returnsOnly && !directions.has('supply') ? null : (
          <Select
            label={returnsOnly ? t('map.prop.air_goes', {}) : t('map.prop.air_source', {})}
            value={common((body) => body.airSource)}
            placeholder={t('map.edit.differ', {})}
            choices={SOURCES.map((airSource) => ({
              value: airSource,
              label: returnsOnly ? t('map.air_goes', { of: { airSource } }) : t('map.air_source', { of: { airSource } }),
            }))}
            onChange={(airSource) => all('edit', (body) => ({ ...body, airSource }))}
          />
        )}
        <Select
          label={t('map.prop.zone', {})}
          value={common((body) => body.zoneId ?? NO_ZONE)}
          placeholder={t('map.edit.differ', {})}
          choices={[
            { value: NO_ZONE, label: t('map.prop.no_zone', {}) },
            ...plan.zones.map((zone) => ({ value: zone.id, label: zone.body.name })),
          ]}
          onChange={(zoneId) => all('edit', (body) => ({ ...body, zoneId: zoneId === NO_ZONE ? null : zoneId }))}
        />
        <div className={styles.pair}>
          <CommittedEntered
            label={t('map.prop.design_velocity', {})}
            unit={display.velocity}
            value={common((body) => body.designVelocity)}
            refuse={refuse((designVelocity) => (body) => ({ ...body, designVelocity }))}
            optional
            onCommit={(designVelocity) => all('edit', (body) => ({ ...body, designVelocity }))}
          />
          <CommittedEntered
            label={t('map.prop.design_flow', {})}
            unit={display.flow}
            value={common((body) => body.designFlow)}
            refuse={refuse((designFlow) => (body) => ({ ...body, designFlow }))}
            optional
            onCommit={(designFlow) => all('edit', (body) => ({ ...body, designFlow }))}
          />
        </div>
        {gridded ? <GridFields grid={grid} proposal={alike ? proposal : null} all={all} /> : null}
        <MeasuringFields
          key={`measuring ${terminals.map((terminal) => terminal.id).join()}`}
          plan={plan}
          terminals={terminals}
          common={common}
          all={all}
        />
        <ReasonedFactor
          key={`factor ${terminals.map((terminal) => terminal.id).join()}`}
          value={common((body) => body.correctionFactor)}
          onCommit={(correctionFactor) => all('edit', (body) => ({ ...body, correctionFactor }))}
        />
        <CommittedText
          label={t('map.prop.closed', {})}
          hint={t('map.prop.closed.hint', {})}
          value={common((body) => body.closed?.reason ?? '') ?? ''}
          onCommit={(reason) => all('edit', (body) => ({ ...body, closed: reason === '' ? null : { reason } }))}
        />
        <CommittedText
          label={t('map.prop.note', {})}
          lines={2}
          value={common((body) => body.note) ?? ''}
          onCommit={(note) => all('edit', (body) => ({ ...body, note }))}
        />
        {single ? (
          inDuct ? null : (
            <ElementFields
              key={`element ${first.id}`}
              terminal={first}
              elements={plan.elements.filter((element) => element.parentId === first.id)}
              change={change}
            />
          )
        ) : (
          <p className={styles.hint}>
            {t('map.edit.total_area', {
              area: formatter.quantity(
                terminals.reduce((sum, { body }) => sum + body.effectiveArea.si, 0),
                'area',
              ),
            })}
          </p>
        )}
        <Button
          kind="danger"
          icon="remove"
          onClick={() =>
            change(
              'remove',
              terminals.map((terminal) => ({ ...edited(terminal, terminal.body), body: null })),
            )
          }
        >
          {single ? t('map.edit.remove', {}) : t('map.edit.remove_several', { n: terminals.length })}
        </Button>
      </div>
    </Why>
  )
}

function tagRefusal(tag: string, own: Entity<'terminal'>, all: readonly Entity<'terminal'>[]): Refusal {
  if (tag === '') return { code: 'map.field.empty', params: {} }
  const taken = all.some((terminal) => terminal.id !== own.id && terminal.body.tag.toLowerCase() === tag.toLowerCase())
  return taken ? { code: 'map.tags.taken', params: { tag } } : null
}
