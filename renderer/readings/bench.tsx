import { useCallback, useMemo, useState, useSyncExternalStore } from 'react'
import type { Uuid } from '#core/model/values.ts'
import { useLocale, useProject, useSay } from '../app/session.tsx'
import { Why } from '../app/why.tsx'
import { AirButton } from './air/air-button.tsx'
import { useAskedFilter } from './asked-filter.ts'
import styles from './bench.module.css'
import { countMissing, fixedView, instrumentBody, lastOf, placeBeside } from './bench-facts.ts'
import { BenchHead, BenchTools } from './bench-head.tsx'
import { useBenchKeys } from './bench-keys.ts'
import { BenchPanels, type Panel, PickForQuantity } from './bench-panels.tsx'
import { BenchStage } from './bench-stage.tsx'
import { useCarriedView } from './carried-view.ts'
import { judgePoints, lookOf, NOT_JUDGED } from './cell-look.ts'
import { EntryLine, NothingAhead } from './entry-line.tsx'
import faceStyles from './face.module.css'
import { faceAspect } from './face-view.ts'
import { FilterStrip } from './filter-strip.tsx'
import { FilterWhy } from './filter-why.tsx'
import { LiveFigures } from './live-figures.tsx'
import { MisfitLineShort } from './misfit-list.tsx'
import { useNextWords } from './next-words.ts'
import { NumberPad } from './number-pad.tsx'
import { isBlock, readBlock } from './paste-layout.ts'
import { type PastePlan, planPaste } from './paste-plan.ts'
import { questionOf } from './questions.ts'
import { QueueLine } from './queue-line.tsx'
import type { PlacedReading } from './reading-book.ts'
import type { FilterView } from './run-desk.ts'
import { RunMap } from './run-map.tsx'
import { unitOfRun } from './run-units.ts'
import sideStyles from './side-panel.module.css'
import { StaleLine } from './stale-line.tsx'
import { draftOf, firstWaiting, keyOf, type Place, type TypingEvent } from './typing.ts'
import { useKeypad } from './use-keypad.ts'
import { useDraftFigures, useLiveFilter } from './use-live-filter.ts'
import { useLastText, useLimitText, useReadingText } from './use-reading-text.ts'
import { useRested } from './use-rested.ts'
import { type OpenRun, useFilterView } from './use-run-desk.ts'
import { useTopAgain } from './use-top-again.ts'
import { Follows, NoDensity } from './ways/follows.tsx'

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
  const locale = useLocale()
  const { display } = useProject().body
  const { desk, plan, hand } = open
  const typing = useSyncExternalStore(desk.subscribe, desk.typing)
  const live = useLiveFilter(open, view)
  const inSight = useCarriedView(plan, view)
  const [panel, setPanel] = useState<Panel>(null)
  const [block, setBlock] = useState('')
  const side = useTopAgain(panel === null)
  const [keypad, setKeypad] = useKeypad()
  const { filter } = view
  const { way } = filter
  const tag = filter.terminal.body.tag
  const unit = unitOfRun(plan.run.body, filter.quantity, display)
  const samples = plan.run.body.samplesPerPoint
  const fixed = fixedView(filter)
  const turns = fixed ? 0 : open.turns
  const aspect = faceAspect(filter.terminal.body, plan.run.body.facingDegrees, turns)
  const at = typing.at
  const draft = draftOf(typing)
  const instrument = hand.of(filter.quantity)
  const byPoints = way === 'face_grid' || way === 'plane'
  // What a face says is told point by point as it is saved; a hood or a pressure says at once what it stands for.
  const rested = useRested(draft, 350)
  const drafted = useDraftFigures(open, view, at, byPoints || rested !== draft ? '' : draft)

  const orderOf = useCallback((point: number) => filter.points.findIndex((candidate) => candidate.number === point) + 1, [filter])
  const textOf = useReadingText(unit)
  const question = useCallback(
    (reading: PlacedReading) => questionOf(desk, view, reading, instrumentBody(open, reading.instrumentId)),
    [desk, view, open],
  )
  const { result, zone } = live
  const judged = useMemo(() => (byPoints ? judgePoints({ result, zone }) : NOT_JUDGED), [result, zone, byPoints])
  const limitText = useLimitText(unit)
  const looks = useMemo(
    () => filter.points.map((point, index) => lookOf(inSight, point, index + 1, samples, judged, textOf, question, limitText)),
    [filter, inSight, samples, judged, textOf, question, limitText],
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
  const paste = panel === 'paste' && block !== '' ? planPaste(desk, block, filter.terminalId, sample, turns, instrument) : null
  const preview = paste ? previewOf(paste, filter.terminalId) : null

  const type = useCallback((event: TypingEvent) => void desk.type(event), [desk])
  const undo = useCallback(() => desk.undo(), [desk])
  const redo = useCallback(() => desk.redo(), [desk])
  useBenchKeys(
    {
      // With nothing typed there is nothing to clear but what lies open beside it.
      type: (event) => (event.kind === 'clear' && panel !== null && draftOf(desk.typing()) === '' ? setPanel(null) : type(event)),
      hasDraft: () => draftOf(desk.typing()) !== '',
      move: (direction) => {
        const to = placeBeside(filter, at, direction, turns, samples)
        if (to) go(to)
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
  const storedHere = at ? (view.readings.get(keyOf(at)) ?? null) : null
  const last = typing.last ? lastOf(typing.last, desk.at(typing.last), plan.terminalOfPoint.get(typing.last.point) ?? '', open) : null
  const lastUnit = useLastText(last?.reading ?? null, open)
  const notePlace = at && (storedHere || draft !== '') ? at : (typing.last ?? at)
  const isOpen = plan.run.body.state === 'open'
  const missing = at && isOpen ? 0 : countMissing(open)
  const figures = drafted ?? live

  return (
    <div className={styles.bench} data-face={byPoints && aspect > 1.25 ? 'wide' : 'tall'} data-keys={keypad && isOpen ? '' : undefined}>
      <BenchHead open={open} filter={filter} turns={turns} northDegrees={northDegrees} fixed={fixed} onUndo={undo} onRedo={redo}>
        <AirButton plan={plan} altitudeM={altitudeM} pressed={panel === 'air'} onPress={() => setPanel(panel === 'air' ? null : 'air')} />
      </BenchHead>
      <FilterStrip
        desk={desk}
        plan={plan}
        result={open.engine?.result ?? null}
        current={filter.terminalId}
        currentVerdict={result?.verdict ?? zone?.verdict ?? null}
        onPick={goToFilter}
      />
      <div className={faceStyles.stage}>
        <BenchStage
          view={inSight}
          looks={looks}
          turns={turns}
          aspect={aspect}
          at={at}
          draft={draft}
          samples={samples}
          preview={preview}
          textOf={textOf}
          result={figures.result}
          settled={live.settled}
          instrument={instrument}
          onGo={go}
          onPoint={goToPoint}
        />
      </div>
      <div ref={side} className={styles.side}>
        {at && isOpen ? (
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
              return read.ok ? questionOf(desk, view, { place: at, ...read.value }, instrument?.body ?? null) : null
            }}
            last={
              last
                ? { where: t('readings.last_where', { ...last, here: last.tag === tag }), text: lastUnit, question: last.question }
                : null
            }
            next={next}
            follows={<Follows filter={filter} result={figures.result} place={draft === '' ? typing.last : at} />}
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
        <div className={styles.standing}>
          <QueueLine desk={desk} quiet={!isOpen} />
          <MisfitLineShort open={open} onOpen={() => setPanel(panel === 'misfits' ? null : 'misfits')} />
        </div>
        <BenchPanels
          open={open}
          filter={filter}
          panel={panel}
          altitudeM={altitudeM}
          notePlace={notePlace}
          block={block}
          onBlock={setBlock}
          paste={paste}
          onClose={() => setPanel(null)}
        />
        {filter.carried !== null ? <p className={sideStyles.remark}>{t('ways.carried', { tag, reason: filter.carried })}</p> : null}
        {typing.repeating === filter.terminalId ? <p className={sideStyles.remark}>{t('readings.repeating', { tag })}</p> : null}
        <NoDensity filter={filter} live={live} instrument={instrument} />
        {panel === 'instrument' ? null : <PickForQuantity open={open} filter={filter} />}
        <LiveFigures live={live} way={way} unit={plan.run.body.unit} orderOf={orderOf} />
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
      {keypad && isOpen ? (
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
