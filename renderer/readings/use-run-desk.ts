import { useCallback, useEffect, useMemo, useRef, useState, useSyncExternalStore } from 'react'
import type { RunResult } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { api } from '../app/client.ts'
import { newId, useCanChange, usePerson, useProject } from '../app/session.tsx'
import { tellUnsent } from './courier.ts'
import type { QuarterTurns } from './face-view.ts'
import { followRun } from './follow-run.ts'
import type { Outgoing } from './outgoing.ts'
import { whenQuiet } from './quiet.ts'
import { createRunDesk, type FilterView, type RunDesk } from './run-desk.ts'
import { type FilterPlan, planRun, type RunDetail, type RunPlan } from './run-plan.ts'
import { tell, waitFor } from './run-transport.ts'
import { unitOfRun } from './run-units.ts'
import { createShelf, type Stand } from './shelf.ts'
import { understand } from './understand.ts'
import { courier } from './use-courier.ts'
import { type Held, useHandInstrument } from './use-hand-instrument.ts'

/** The engine's result, with the acknowledged changes and the run that it knows. */
export type EngineResult = { readonly result: RunResult; readonly asOf: number; readonly plan: RunPlan | null }

export type OpenRun = {
  readonly desk: RunDesk
  readonly plan: RunPlan
  readonly engine: EngineResult | null
  /** counts acknowledged changes: a result asked for before the last one is behind the screen */
  readonly acknowledged: number
  readonly reload: () => void
  /** takes over the run that a command answers */
  readonly take: (command: () => Promise<RunDetail>) => Promise<void>
  readonly turns: QuarterTurns
  readonly setTurns: (turns: QuarterTurns) => void
  readonly hand: ReturnType<typeof useHandInstrument>
}

/** Above this many filters the whole run's figures are asked for only when the typing rests. */
const SMALL_RUN_FILTERS = 60
const SOON_MS = 250
const AT_REST_MS = 2_500

/** Opens a run for work: its desk, kept for as long as the screen is there, and the engine's figures. */
export function useRunDesk(runId: Uuid): { readonly open: OpenRun | null; readonly problem: unknown } {
  const person = usePerson()
  const canChange = useCanChange()
  const shelf = useMemo(() => {
    const { save, ...kept } = createShelf(window.localStorage, runId)
    const saveAndTell = (items: readonly Outgoing[]) => {
      save(items)
      tellUnsent(runId, items)
    }
    return { ...kept, save: saveAndTell }
  }, [runId])
  const remembered = useMemo(() => shelf.loadStand(), [shelf])
  const [turns, setTurns] = useState<QuarterTurns>(remembered?.turns ?? 0)
  const [desk, setDesk] = useState<RunDesk | null>(null)
  const [plan, setPlan] = useState<RunPlan | null>(null)
  const hand = useHandInstrument(heldBefore(remembered), plan)
  const { display } = useProject().body
  const [problem, setProblem] = useState<unknown>(null)
  const [engine, setEngine] = useState<EngineResult | null>(null)
  const [acknowledged, setAcknowledged] = useState(0)

  const now = useRef({ personId: person?.id ?? null, hand, canChange, plan, desk, display, acknowledged: 0 })
  now.current = { ...now.current, personId: person?.id ?? null, hand, canChange, plan, desk, display }

  const evaluateSoon = useRef<() => void>(() => undefined)
  const take = useCallback(async (ask: () => Promise<RunDetail>) => {
    const seen = now.current.desk?.answers() ?? 0
    const detail = await ask()
    const next = planRun(detail)
    if (!next || now.current.desk?.reloaded(next, detail.readings, seen) === false) return
    setPlan(next)
    now.current.plan = next
    // The run says which air it was and pins limits and sizes: figures follow from it as they do from readings.
    evaluateSoon.current()
  }, [])

  const reload = useCallback(() => {
    take(() => api.runs.get({ runId })).catch(setProblem)
  }, [runId, take])

  useEffect(() => {
    let gone = false
    let made: RunDesk | null = null
    courier.release(runId)
    tellUnsent(runId, shelf.load())
    const evaluate = () => {
      const asOf = now.current.acknowledged
      const { plan: asked } = now.current
      api.evaluation.run({ runId }).then(
        (result) => {
          if (!gone) setEngine({ result, asOf, plan: asked })
        },
        // The figures on the screen stay provisional, and say so; the next change asks again.
        () => undefined,
      )
    }
    let soonMs = SOON_MS
    let evaluator = whenQuiet(soonMs, evaluate)
    evaluateSoon.current = () => evaluator.ask()
    // Every change of this page comes back as news as well; only news beyond those is a reason to look again.
    let unexplained = 0
    const reloader = whenQuiet(AT_REST_MS, () => {
      if (unexplained <= 0) return
      unexplained = 0
      reload()
      evaluate()
    })
    const stop = new AbortController()
    void followRun(
      runId,
      (news) => {
        if (news === 'readings') unexplained += 1
        if (news === 'run') reload()
        reloader.ask()
      },
      stop.signal,
    )

    api.runs.get({ runId }).then(
      (detail) => {
        const first = planRun(detail)
        if (gone || !first) return
        soonMs = first.filters.length > SMALL_RUN_FILTERS ? AT_REST_MS : SOON_MS
        evaluator = whenQuiet(soonMs, evaluate)
        now.current.plan = first
        made = createRunDesk(
          first,
          detail.readings,
          {
            shelf,
            wait: waitFor,
            send: (item) => tell(runId, item),
            reload,
            acknowledged: () => {
              now.current.acknowledged += 1
              setAcknowledged(now.current.acknowledged)
              unexplained -= 1
              evaluator.ask()
              reloader.stir()
            },
            signature: (point) => {
              const { personId, hand: inHand, plan: current } = now.current
              const filter = filterAt(current ?? first, point)
              const instrument = filter ? inHand.of(filter.quantity) : null
              if (!personId || (point !== null && !instrument)) return null
              return { commandId: newId(), personId, instrumentId: instrument?.id ?? '', at: new Date().toISOString() }
            },
            understand: (text, place) => {
              const { plan: current, hand: inHand, canChange: may, display: units } = now.current
              const laid = current ?? first
              const filter = filterAt(laid, place.point)
              const quantity = filter?.quantity ?? 'velocity'
              const carriedTag = filter?.carried == null ? null : filter.terminal.body.tag
              return understand(
                text,
                laid,
                { quantity, unit: unitOfRun(laid.run.body, quantity, units), carriedTag },
                inHand.of(quantity),
                may,
              )
            },
          },
          remembered,
        )
        now.current.desk = made
        setPlan(first)
        setDesk(made)
        evaluate()
      },
      (error: unknown) => {
        if (!gone) setProblem(error)
      },
    )
    return () => {
      gone = true
      stop.abort()
      evaluator.stop()
      reloader.stop()
      made?.close()
      courier.giveBack(runId)
    }
  }, [runId, reload, remembered, shelf])

  const typing = useSyncExternalStore(desk?.subscribe ?? subscribeToNothing, desk?.typing ?? nothing)
  useEffect(() => {
    if (!typing) return
    shelf.saveStand({ at: typing.at, drafts: { ...typing.drafts }, turns, instrumentId: null, held: hand.held })
  }, [shelf, typing, turns, hand.held])

  const open = desk && plan ? { desk, plan, engine, acknowledged, reload, take, turns, setTurns, hand } : null
  return { open, problem }
}

/** The terminal or plane that a point belongs to. */
function filterAt(plan: RunPlan, point: number | null): FilterPlan | undefined {
  return point === null ? undefined : plan.filterOf.get(plan.terminalOfPoint.get(point) ?? '')
}

function heldBefore(stand: Stand | null): Held {
  return { ...(stand?.instrumentId ? { velocity: stand.instrumentId } : {}), ...stand?.held }
}

const subscribeToNothing = () => () => undefined
const nothing = () => null

/** One filter of the desk, drawn anew only when one of its numbers changes. */
export function useFilterView(desk: RunDesk, terminalId: Uuid): FilterView | null {
  return useSyncExternalStore(desk.subscribe, () => desk.view(terminalId))
}
