import { useCallback, useMemo, useState, useSyncExternalStore } from 'react'
import type { Uuid } from '#core/model/values.ts'
import { useFormatter, useLocale, useSay } from '../app/session.tsx'
import { Why } from '../app/why.tsx'
import { AirButton } from './air/air-button.tsx'
import { ConditionsPanel } from './air/conditions-panel.tsx'
import { useAskedFilter } from './asked-filter.ts'
import styles from './bench.module.css'
import { countMissing, instrumentBody, lastOf } from './bench-facts.ts'
import { BenchHead, BenchTools } from './bench-head.tsx'
import { useBenchKeys } from './bench-keys.ts'
import { lookOf, pointLimits, questionOf } from './cell-look.ts'
import { EntryLine, NothingAhead } from './entry-line.tsx'
import faceStyles from './face.module.css'
import { FaceGrid } from './face-grid.tsx'
import { faceAspect, neighbour } from './face-view.ts'
import { FilterStrip } from './filter-strip.tsx'
import { FilterWhy } from './filter-why.tsx'
import { GridPanel } from './grid-panel.tsx'
import { InstrumentPicker } from './instrument-picker.tsx'
import { LiveFigures } from './live-figures.tsx'
import { useNextWords } from './next-words.ts'
import { NotePanel } from './note-panel.tsx'
import { NumberPad } from './number-pad.tsx'
import { isBlock, readBlock } from './paste-layout.ts'
import { PastePanel } from './paste-panel.tsx'
import { type PastePlan, planPaste } from './paste-plan.ts'
import { QueueLine } from './queue-line.tsx'
import type { PlacedReading } from './reading-book.ts'
import type { FilterView } from './run-desk.ts'
import { RunMap } from './run-map.tsx'
import { designVelocityMps } from './run-plan.ts'
import sideStyles from './side-panel.module.css'
import { StaleLine } from './stale-line.tsx'
import { draftOf, firstWaiting, type Place, type TypingEvent } from './typing.ts'
import { useKeypad } from './use-keypad.ts'
import { useLiveFilter } from './use-live-filter.ts'
import { type OpenRun, useFilterView } from './use-run-desk.ts'

export type Panel = 'instrument' | 'note' | 'paste' | 'grid' | 'air' | null

/** The bench: one filter's face before the technician, the typing, and what the numbers say so far. */
export function Bench({
  open,
  facilityNorthDegrees,
  altitudeM,
}: {
  open: OpenRun
  facilityNorthDegrees: number
  altitudeM: number | null
}) {
  const { desk, plan } = open
  const typing = useSyncExternalStore(desk.subscribe, desk.typing)
  // When no point waits, the filter measured last stays in sight.
  const shown = typing.at ?? typing.last
  const terminalId = (shown ? plan.terminalOfPoint.get(shown.point) : undefined) ?? plan.filters[0]?.terminalId
  const view = useFilterView(desk, terminalId ?? '')
  if (!view) return null
  return <BenchOf key="bench" open={open} view={view} northDegrees={facilityNorthDegrees} altitudeM={altitudeM} />
}

type BenchOfProps = { open: OpenRun; view: FilterView; northDegrees: number; altitudeM: number | null }

function BenchOf({ open, view, northDegrees, altitudeM }: BenchOfProps) {
  const t = useSay()
  const f = useFormatter()
  const locale = useLocale()
  const { desk, plan, hand } = open
  const typing = useSyncExternalStore(desk.subscribe, desk.typing)
  const live = useLiveFilter(open, view)
  const [panel, setPanel] = useState<Panel>(null)
  const [block, setBlock] = useState('')
  const [keypad, setKeypad] = useKeypad()
  const { filter } = view
  const tag = filter.terminal.body.tag
  const unit = plan.run.body.unit
  const samples = plan.run.body.samplesPerPoint
  const wall = filter.terminal.body.mounting === 'wall'
  const turns = wall ? 0 : open.turns
  const design = designVelocityMps(plan, filter)
  const aspect = faceAspect(filter.terminal.body, plan.run.body.facingDegrees, turns)
  const at = typing.at
  const draft = draftOf(typing)

  const orderOf = useCallback((point: number) => filter.points.findIndex((candidate) => candidate.number === point) + 1, [filter])
  const textOf = useCallback(
    (reading: PlacedReading) => (reading.unit === unit ? reading.typed : f.number(reading.si, 'velocity', { unit })),
    [unit, f],
  )
  const question = useCallback(
    (reading: PlacedReading) => questionOf(view, reading, design, instrumentBody(open, reading.instrumentId)),
    [view, design, open],
  )
  const limits = useMemo(() => pointLimits(live.result?.criteria ?? []), [live.result])
  const looks = useMemo(
    () => filter.points.map((point, index) => lookOf(view, point, index + 1, samples, limits, textOf, question)),
    [filter, view, samples, limits, textOf, question],
  )
  const go = useCallback((to: Place) => void desk.type({ kind: 'go', to }), [desk])
  const goToPoint = useCallback((point: number) => go({ point, sample: 1 }), [go])
  const goToFilter = useCallback(
    (id: Uuid) => {
      const target = plan.filterOf.get(id)
      if (!target) return
      const board = desk.board()
      const waiting = firstWaiting({ ...board, path: board.path.filter((point) => point.terminalId === id) })
      const first = target.points[0]
      if (waiting) go(waiting)
      else if (first) goToPoint(first.number)
    },
    [plan, desk, go, goToPoint],
  )
  useAskedFilter(goToFilter)

  const sample = at?.sample ?? 1
  const paste = panel === 'paste' && block !== '' ? planPaste(desk, block, filter.terminalId, sample, turns, hand.instrument) : null
  const preview = paste ? previewOf(paste, filter.terminalId) : null

  const type = useCallback((event: TypingEvent) => void desk.type(event), [desk])
  const undo = useCallback(() => desk.undo(), [desk])
  const redo = useCallback(() => desk.redo(), [desk])
  useBenchKeys(
    {
      type,
      hasDraft: () => draftOf(desk.typing()) !== '',
      move: (direction) => {
        const from = filter.points.find((point) => point.number === at?.point)
        const to = from ? neighbour(filter.points, from, direction, turns) : filter.points.at(-1)
        if (to) goToPoint(to.number)
      },
      filter: (step) => {
        const next = plan.filters[filter.index + step]
        if (next) goToFilter(next.terminalId)
      },
      edge: (edge) => {
        const point = edge === 'first' ? filter.points[0] : filter.points.at(-1)
        if (point) goToPoint(point.number)
      },
      undo,
      redo,
      paste: (text) => {
        const cells = readBlock(text)
        if (isBlock(cells)) {
          setBlock(text)
          setPanel('paste')
        } else for (const character of cells[0]?.[0] ?? '') if (/[0-9.,-]/.test(character)) type({ kind: 'character', character })
      },
    },
    true,
  )

  const next = useNextWords(plan, desk.board(), at, filter, turns)
  const storedHere = at ? (view.readings.get(`${at.point}:${at.sample}`) ?? null) : null
  const last = typing.last ? lastOf(typing.last, desk.at(typing.last), plan.terminalOfPoint.get(typing.last.point) ?? '', open) : null
  const notePlace = at && (storedHere || draft !== '') ? at : (typing.last ?? at)
  const noteFilter = notePlace ? plan.filterOf.get(plan.terminalOfPoint.get(notePlace.point) ?? '') : undefined
  const missing = at && plan.run.body.state === 'open' ? 0 : countMissing(open)

  return (
    <div className={styles.bench} data-face={aspect > 1.25 ? 'wide' : 'tall'}>
      <BenchHead open={open} filter={filter} turns={turns} northDegrees={northDegrees} wall={wall} onUndo={undo} onRedo={redo}>
        <AirButton plan={plan} altitudeM={altitudeM} pressed={panel === 'air'} onPress={() => setPanel(panel === 'air' ? null : 'air')} />
      </BenchHead>
      <FilterStrip
        desk={desk}
        plan={plan}
        result={open.engine?.result ?? null}
        current={filter.terminalId}
        currentVerdict={live.result?.verdict ?? null}
        onPick={goToFilter}
      />
      <div className={faceStyles.stage}>
        <FaceGrid
          tag={tag}
          points={filter.points}
          looks={looks}
          turns={turns}
          aspect={aspect}
          currentPoint={at?.point ?? null}
          draft={draft}
          samples={samples}
          limits={{ low: f.number(limits.low, 'velocity', { unit }), high: f.number(limits.high, 'velocity', { unit }) }}
          preview={preview}
          onGo={goToPoint}
        />
      </div>
      <div className={styles.side}>
        {at && plan.run.body.state === 'open' ? (
          <EntryLine
            tag={tag}
            order={orderOf(at.point)}
            points={filter.points.length}
            sample={at.sample}
            samples={samples}
            draft={draft}
            unit={unit}
            stored={storedHere ? textOf(storedHere) : null}
            problem={typing.problem}
            questionDraft={(text) => {
              const read = desk.board().read(text, at)
              return read.ok ? questionOf(view, { place: at, ...read.value }, design, hand.instrument?.body ?? null) : null
            }}
            last={last ? { order: last.order, text: textOf(last.reading), question: last.question } : null}
            next={next}
          />
        ) : (
          <NothingAhead
            missing={missing}
            state={plan.run.body.state}
            certificationId={plan.run.parentId}
            onGo={() => {
              const first = firstWaiting(desk.board())
              if (first) go(first)
            }}
          />
        )}
        <QueueLine desk={desk} />
        {typing.repeating === filter.terminalId ? <p className={sideStyles.remark}>{t('readings.repeating', { tag })}</p> : null}
        {panel === 'note' && notePlace && noteFilter ? (
          <NotePanel
            key={`${notePlace.point}:${notePlace.sample}`}
            tag={noteFilter.terminal.body.tag}
            order={noteFilter.points.findIndex((point) => point.number === notePlace.point) + 1}
            note={desk.noteAt(notePlace)}
            stored={desk.at(notePlace) !== null}
            onSave={(note) => desk.note(notePlace, note, t('readings.note.reason', {}))}
            onClose={() => setPanel(null)}
          />
        ) : null}
        {panel === 'paste' ? (
          <PastePanel
            tag={tag}
            text={block}
            onText={setBlock}
            plan={paste}
            onSave={() => {
              if (paste) desk.paste(paste.values, t('readings.paste.reason', {}))
              setBlock('')
              setPanel(null)
            }}
            onClose={() => {
              setBlock('')
              setPanel(null)
            }}
          />
        ) : null}
        {panel === 'air' ? (
          <ConditionsPanel key={plan.run.revision} open={open} altitudeM={altitudeM} onClose={() => setPanel(null)} />
        ) : null}
        {panel === 'grid' ? <GridPanel key={filter.terminalId} open={open} filter={filter} onClose={() => setPanel(null)} /> : null}
        {panel === 'instrument' ? (
          <div className={sideStyles.panel}>
            <p className={sideStyles.title}>{t('readings.instrument.pick', {})}</p>
            <InstrumentPicker
              plan={plan}
              instruments={hand.instruments}
              picked={hand.instrument?.id ?? null}
              onPick={(id) => {
                hand.pick(id)
                setPanel(null)
              }}
            />
          </div>
        ) : null}
        <LiveFigures live={live} unit={unit} orderOf={orderOf} />
        <BenchTools
          open={open}
          filter={filter}
          panel={panel}
          onPanel={(wanted) => setPanel(panel === wanted ? null : wanted)}
          keypad={keypad}
          onKeypad={setKeypad}
          canNote={notePlace !== null}
        />
        <StaleLine open={open} />
        <div className={styles.map}>
          <RunMap plan={plan} result={open.engine?.result ?? null} turns={open.turns} current={filter.terminalId} onPick={goToFilter} />
        </div>
      </div>
      {keypad ? (
        <div className={styles.pad}>
          <NumberPad decimal={decimalSign(locale)} onType={type} />
        </div>
      ) : null}
      <Why title={tag}>
        <FilterWhy desk={desk} plan={plan} view={view} live={live} instruments={hand.instruments} />
      </Why>
    </div>
  )
}

function previewOf(paste: PastePlan, terminalId: Uuid): ReadonlyMap<number, { text: string; flags: string }> {
  const own = paste.values.filter((value) => value.terminalId === terminalId)
  return new Map(
    own.map(({ place, value }) => [place.point, { text: value.typed, flags: paste.questioned.has(place.point) ? 'questioned' : '' }]),
  )
}

/** The decimal sign that the person's keyboard most likely has; both are understood. */
function decimalSign(locale: string): '.' | ',' {
  return new Intl.NumberFormat(locale).format(0.5).includes(',') ? ',' : '.'
}
