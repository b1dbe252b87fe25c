import { useState } from 'react'
import { ductSectionOf } from '#core/methods/airflow/duct-layout.ts'
import { checkTraversePlace } from '#core/methods/traverse/place-check.ts'
import { AirDirection, type Duct } from '#core/model/terminals.ts'
import type { Entered } from '#core/model/values.ts'
import { useProject, useSay } from '#renderer/app/session.tsx'
import { Button } from '#renderer/ui/button.tsx'
import { Checkbox } from '#renderer/ui/checkbox.tsx'
import { Select } from '#renderer/ui/select.tsx'
import { CommittedEntered, CommittedNumber, type Refusal } from './committed-fields.tsx'
import { DepthDialog } from './depth-dialog.tsx'
import { depthSheet, withShape } from './duct-changes.ts'
import styles from './panel.module.css'

type DuctFieldsProps = { tag: string; duct: Duct; refuse: (duct: Duct) => Refusal; onCommit: (duct: Duct | null) => void }

const SWIRL = { none: false, found: true, not_looked: null } as const
const SWIRLS = ['none', 'found', 'not_looked'] as const

/** The section of a duct that is traversed: its inside size, the rule, what is read, and how good the place is. */
export function DuctFields({ tag, duct, refuse, onCommit }: DuctFieldsProps) {
  const t = useSay()
  const { display } = useProject().body
  const { section } = duct
  const { shape } = section
  const put = (patch: Partial<Duct>) => onCommit({ ...duct, ...patch })
  const size = (label: string, value: Entered, next: (value: Entered) => Duct['section']) => (
    <CommittedEntered
      label={label}
      unit={value.unit === 'm' || value.unit === 'ft' ? display.length : value.unit}
      value={value}
      refuse={(entered) => refuse({ ...duct, section: next(entered) })}
      onCommit={(entered) => entered && put({ section: next(entered) })}
    />
  )
  const straight = (part: 'straightBefore' | 'straightAfter', label: string) => (
    <CommittedEntered
      label={label}
      unit={display.length}
      optional
      value={duct[part]}
      refuse={(entered) => refuse({ ...duct, [part]: entered })}
      onCommit={(entered) => put({ [part]: entered })}
    />
  )
  return (
    <fieldset className={styles.group}>
      <legend>{t('measuring.duct', {})}</legend>
      <Select
        label={t('measuring.duct.shape', {})}
        value={shape}
        choices={(['rectangle', 'round'] as const).map((value) => ({
          value,
          label: t('measuring.duct.shape.choice', { of: { shape: value } }),
        }))}
        hint={t('measuring.duct.size_hint', {})}
        onChange={(next) => onCommit(withShape(duct, next))}
      />
      {section.shape === 'round' ? (
        size(t('measuring.duct.diameter', {}), section.diameter, (diameter) => ({ shape: 'round', diameter }))
      ) : (
        <div className={styles.pair}>
          {size(t('measuring.duct.width', {}), section.width, (width) => ({ ...section, width }))}
          {size(t('measuring.duct.height', {}), section.height, (height) => ({ ...section, height }))}
        </div>
      )}
      <Select
        label={t('measuring.duct.rule', {})}
        value={duct.rule}
        choices={(shape === 'round' ? (['log_linear', 'equal_area'] as const) : (['log_tchebycheff', 'equal_area'] as const)).map(
          (rule) => ({
            value: rule,
            label: t('measuring.duct.rule.choice', { of: { rule } }),
          }),
        )}
        onChange={(rule) => put({ rule, lines: null, pointsPerLine: null })}
      />
      <Points tag={tag} duct={duct} put={put} />
      <div className={styles.pair}>
        <Select
          label={t('measuring.duct.measures', {})}
          value={duct.measures}
          choices={(['velocity', 'velocity_pressure'] as const).map((measures) => ({
            value: measures,
            label: t('measuring.duct.measures.choice', { of: { measures } }),
          }))}
          onChange={(measures) => put({ measures })}
        />
        <Select
          label={t('measuring.duct.direction', {})}
          value={duct.direction}
          choices={AirDirection.options.map((direction) => ({
            value: direction,
            label: t('measuring.duct.direction.choice', { of: { direction } }),
          }))}
          onChange={(direction) => put({ direction })}
        />
      </div>
      {duct.measures === 'velocity_pressure' ? (
        <CommittedNumber
          label={t('measuring.duct.pitot', {})}
          hint={t('measuring.duct.pitot_hint', {})}
          value={duct.pitotCoefficient}
          least={0.01}
          most={2}
          onCommit={(pitotCoefficient) => pitotCoefficient !== null && put({ pitotCoefficient })}
        />
      ) : null}
      <Checkbox label={t('measuring.duct.counts', {})} checked={duct.countsInRoom} onChange={(countsInRoom) => put({ countsInRoom })} />
      <div className={styles.pair}>
        {straight('straightBefore', t('measuring.duct.straight_before', {}))}
        {straight('straightAfter', t('measuring.duct.straight_after', {}))}
      </div>
      <p className={styles.hint}>{t('measuring.duct.straight_hint', {})}</p>
      <Select
        label={t('measuring.duct.swirl', {})}
        value={SWIRLS.find((swirl) => SWIRL[swirl] === duct.cyclonic) ?? 'not_looked'}
        choices={SWIRLS.map((swirl) => ({ value: swirl, label: t('measuring.duct.swirl.choice', { of: { swirl } }) }))}
        onChange={(swirl) => put({ cyclonic: SWIRL[swirl] })}
      />
      <PlaceRemarks duct={duct} />
      <div className={styles.actions}>
        <Button kind="quiet" onClick={() => onCommit(null)}>
          {t('measuring.duct.forget', {})}
        </Button>
      </div>
    </fieldset>
  )
}

function Points({ tag, duct, put }: { tag: string; duct: Duct; put: (patch: Partial<Duct>) => void }) {
  const t = useSay()
  const [shown, setShown] = useState(false)
  const sheet = depthSheet(duct)
  const own = depthSheet({ ...duct, lines: null, pointsPerLine: null })
  const number = (field: 'lines' | 'pointsPerLine', label: string, ownNumber: number | null) => (
    <CommittedNumber
      label={label}
      hint={t('measuring.duct.own_number', { n: ownNumber })}
      value={duct[field]}
      least={1}
      most={40}
      whole
      optional
      onCommit={(count) => put({ [field]: count })}
    />
  )
  return (
    <>
      <div className={styles.pair}>
        {number('lines', t('measuring.duct.lines', { of: duct.section }), 'problem' in own ? null : own.ports.length)}
        {number('pointsPerLine', t('measuring.duct.points', {}), 'problem' in own ? null : own.points.length)}
      </div>
      {'problem' in sheet ? (
        <p className={styles.error} role="alert">
          {t('measuring.duct.problem', { of: sheet })}
        </p>
      ) : (
        <Button icon="gauge" onClick={() => setShown(true)}>
          {t('measuring.depths.open', { points: sheet.count })}
        </Button>
      )}
      {shown && !('problem' in sheet) ? <DepthDialog tag={tag} duct={duct} sheet={sheet} onClose={() => setShown(false)} /> : null}
    </>
  )
}

function PlaceRemarks({ duct }: { duct: Duct }) {
  const t = useSay()
  const remarks = checkTraversePlace(ductSectionOf(duct), {
    straightBeforeM: duct.straightBefore?.si ?? null,
    straightAfterM: duct.straightAfter?.si ?? null,
    cyclonic: duct.cyclonic,
  })
  if (remarks.length === 0) return null
  return (
    <ul className={styles.list}>
      {remarks.map(({ code, weight, found, limit, in: unit }) => (
        <li key={code} className={weight === 'unusable' ? styles.error : styles.hint}>
          {t('measuring.duct.remark', { of: { remark: code }, found, limit, unit })}
        </li>
      ))}
    </ul>
  )
}
