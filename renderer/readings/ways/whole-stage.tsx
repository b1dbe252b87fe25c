import { useRef } from 'react'
import { limitsHeld } from '#core/criteria/limits-held.ts'
import type { FilterResult } from '#core/model/results.ts'
import { useFormatter, useSay } from '../../app/session.tsx'
import { Figure } from '../../ui/figure.tsx'
import { VerdictMark } from '../../ui/verdict-mark.tsx'
import type { BenchStageProps } from '../bench-stage.tsx'
import type { CellLook } from '../cell-look.ts'
import { useStageForm } from '../cell-of-point.ts'
import { FaceCell } from '../face-cell.tsx'
import { Notes, Standing } from '../live-figures.tsx'
import type { FilterView } from '../run-desk.ts'
import { keyOf, type Place } from '../typing.ts'
import { useFocusAt } from '../use-focus-at.ts'
import type { HandInstrument } from '../use-hand-instrument.ts'
import { HoodFactorLine } from './hood-factor-line.tsx'
import styles from './whole.module.css'

type WholeStageProps = Omit<BenchStageProps, 'turns' | 'aspect' | 'onPoint'> & {
  /** of its one point, and the only one of the stage */
  look: CellLook
}

/** Samples that stand beside each other. */
const IN_A_ROW = 5

/** One large entry for a whole terminal, sample by sample, and what follows from it at once: factor, flow, percent of design, verdict. */
export function WholeStage({ view, look, looks, at, draft, samples, preview, textOf, result, settled, instrument, onGo }: WholeStageProps) {
  const t = useSay()
  const stage = useRef<HTMLElement>(null)
  useFocusAt(stage, at === null ? null : idOf(at))
  const { filter } = view
  const form = useStageForm(looks, preview)
  const laid = preview?.get(look.point)
  return (
    <div className={styles.stage}>
      <section
        ref={stage}
        className={styles.samples}
        aria-label={t('ways.whole', { tag: filter.terminal.body.tag })}
        style={{ gridTemplateColumns: `repeat(${Math.min(samples, IN_A_ROW)}, minmax(0, 1fr))` }}
      >
        {Array.from({ length: samples }, (_, index) => {
          const place = { point: look.point, sample: index + 1 }
          const reading = view.readings.get(keyOf(place)) ?? null
          const current = at?.point === place.point && at.sample === place.sample
          const shown = laid && current ? laid : null
          return (
            <FaceCell
              key={place.sample}
              id={idOf(place)}
              point={place.point}
              order={samples === 1 ? null : place.sample}
              towards={index + 1 < samples && (index + 1) % IN_A_ROW !== 0 ? 'right' : null}
              row={1 + Math.floor(index / IN_A_ROW)}
              column={1 + (index % IN_A_ROW)}
              text={shown ? shown.text : reading ? textOf(reading) : ''}
              draft={current ? draft : ''}
              saved={shown ? 'waiting' : (reading?.saved ?? 'empty')}
              flags={reading ? look.flags.filter((flag) => reading.flags.includes(flag) || samples === 1).join(' ') : ''}
              outside={null}
              limit=""
              note={(reading?.note ?? '') !== ''}
              carried={look.carried}
              current={current}
              samples={1}
              preview={shown !== null}
              wholeDigits={form.whole}
              fractionDigits={form.fraction}
              onGo={() => onGo(place)}
            />
          )
        })}
      </section>
      {result ? <WhatFollows result={result} view={view} instrument={instrument} settled={settled && draft === ''} /> : null}
    </div>
  )
}

const idOf = ({ point, sample }: Place) => `point-${point}-${sample}`

type WhatFollowsProps = { result: FilterResult; view: FilterView; instrument: HandInstrument | null; settled: boolean }

function WhatFollows({ result, view, instrument, settled }: WhatFollowsProps) {
  const t = useSay()
  const f = useFormatter()
  const { filter } = view
  const element = filter.terminal.body.flowElement
  return (
    <section aria-label={t('ways.follows', {})} className={styles.follows} data-draft={settled ? undefined : ''}>
      {filter.way === 'hood' ? <HoodFactorLine filter={filter} result={result} instrument={instrument} /> : null}
      {filter.way === 'flow_element' && element ? (
        <p className={styles.line}>
          {element.kind === 'discharge'
            ? t('ways.element.discharge', { coefficient: element.coefficient })
            : t('ways.element.stated', { flowM3ps: element.flowAtOnePascal.si, densityKgpm3: element.statedDensityKgpm3 })}
        </p>
      ) : null}
      <div className={styles.figures}>
        <Figure
          label={t('ways.figure.flow', {})}
          value={f.number(result.flowM3ps, 'flow', { heldAgainst: limitsHeld(result.criteria, 'flow') })}
          unit={f.unit('flow')}
          note={<Notes basis={result.basis} uncertainty={result.uncertainty?.flow ?? null} dimension="flow" more={null} />}
        />
        {result.designFlowM3ps === null ? null : (
          <Figure size="large" label={t('ways.figure.design', {})} value={f.number(result.designFlowM3ps, 'flow')} unit={f.unit('flow')} />
        )}
        {result.percentOfDesign === null ? null : (
          <Figure
            size="large"
            label={t('ways.figure.percent', {})}
            value={f.number(result.percentOfDesign, 'percent', { digits: 0 })}
            unit={f.unit('percent')}
          />
        )}
        <div className={styles.verdict}>
          <VerdictMark verdict={result.verdict} look="chip" />
          <Standing settled={settled} />
        </div>
      </div>
    </section>
  )
}
