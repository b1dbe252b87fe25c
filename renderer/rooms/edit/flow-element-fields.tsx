import type { FlowElement } from '#core/model/terminals.ts'
import { useProject, useSay } from '#renderer/app/session.tsx'
import { Button } from '#renderer/ui/button.tsx'
import { Select } from '#renderer/ui/select.tsx'
import { CommittedEntered, CommittedNumber, type Refusal } from './committed-fields.tsx'
import styles from './panel.module.css'

type FlowElementFieldsProps = {
  element: FlowElement
  refuse: (element: FlowElement) => Refusal
  onCommit: (element: FlowElement | null) => void
}

const STATED_DENSITY = 1.2

/** An orifice, nozzle or venturi in the duct, with the coefficient or flow that was stated for it. */
export function FlowElementFields({ element, refuse, onCommit }: FlowElementFieldsProps) {
  const t = useSay()
  const { display } = useProject().body
  const stated = (): FlowElement => ({
    kind: 'stated',
    flowAtOnePascal: { si: 0.01, typed: '0.01', unit: 'm3/s' },
    statedDensityKgpm3: STATED_DENSITY,
    uncertaintyPercent: element.uncertaintyPercent,
  })
  const discharge = (): FlowElement => ({
    kind: 'discharge',
    coefficient: 0.6,
    boreDiameter: { si: 0.15, typed: '0.15', unit: 'm' },
    ductDiameter: { si: 0.25, typed: '0.25', unit: 'm' },
    expansibility: 1,
    uncertaintyPercent: element.uncertaintyPercent,
  })
  return (
    <fieldset className={styles.group}>
      <legend>{t('measuring.element', {})}</legend>
      <Select
        label={t('measuring.element.kind', {})}
        value={element.kind}
        choices={(['discharge', 'stated'] as const).map((kind) => ({
          value: kind,
          label: t('measuring.element.kind.choice', { of: { kind } }),
        }))}
        onChange={(kind) => kind !== element.kind && onCommit(kind === 'stated' ? stated() : discharge())}
      />
      {element.kind === 'stated' ? (
        <>
          <CommittedEntered
            label={t('measuring.element.flow', {})}
            unit={display.flow}
            value={element.flowAtOnePascal}
            refuse={(flowAtOnePascal) => refuse({ ...element, flowAtOnePascal })}
            onCommit={(flowAtOnePascal) => flowAtOnePascal && onCommit({ ...element, flowAtOnePascal })}
          />
          <CommittedNumber
            label={t('measuring.element.density', {})}
            value={element.statedDensityKgpm3}
            least={0.1}
            most={5}
            onCommit={(statedDensityKgpm3) => statedDensityKgpm3 !== null && onCommit({ ...element, statedDensityKgpm3 })}
          />
        </>
      ) : (
        <>
          <div className={styles.pair}>
            {(['boreDiameter', 'ductDiameter'] as const).map((part) => (
              <CommittedEntered
                key={part}
                label={part === 'boreDiameter' ? t('measuring.element.bore', {}) : t('measuring.element.duct', {})}
                unit={display.length}
                value={element[part]}
                refuse={(value) => refuse({ ...element, [part]: value })}
                onCommit={(value) => value && onCommit({ ...element, [part]: value })}
              />
            ))}
          </div>
          <div className={styles.pair}>
            <CommittedNumber
              label={t('measuring.element.coefficient', {})}
              value={element.coefficient}
              least={0.01}
              most={2}
              onCommit={(coefficient) => coefficient !== null && onCommit({ ...element, coefficient })}
            />
            <CommittedNumber
              label={t('measuring.element.expansibility', {})}
              hint={t('measuring.element.expansibility_hint', {})}
              value={element.expansibility}
              least={0.01}
              most={1}
              onCommit={(expansibility) => expansibility !== null && onCommit({ ...element, expansibility })}
            />
          </div>
        </>
      )}
      <CommittedNumber
        label={t('measuring.element.uncertainty', {})}
        hint={t('measuring.uncertainty_hint', {})}
        value={element.uncertaintyPercent}
        least={0}
        most={50}
        optional
        onCommit={(uncertaintyPercent) => onCommit({ ...element, uncertaintyPercent })}
      />
      <div className={styles.actions}>
        <Button kind="quiet" onClick={() => onCommit(null)}>
          {t('measuring.element.forget', {})}
        </Button>
      </div>
    </fieldset>
  )
}
