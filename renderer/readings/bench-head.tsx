import { useQuery } from '@tanstack/react-query'
import { type ReactNode, useState } from 'react'
import { Link, useLocation } from 'wouter'
import { airDirectionOf } from '#core/methods/airflow/ways.ts'
import type { Quantity, Unit } from '#core/model/values.ts'
import { unitLabel } from '#core/units/units.ts'
import { api, orpc } from '../app/client.ts'
import { newCommand, useCanChange, usePerson, useProject, useSay } from '../app/session.tsx'
import { Button } from '../ui/button.tsx'
import { Segmented } from '../ui/segmented.tsx'
import { useToast } from '../ui/toast.tsx'
import { Tooltip } from '../ui/tooltip.tsx'
import styles from './bench.module.css'
import type { Panel } from './bench-panels.tsx'
import { facingEighth, northOnScreenDegrees, type QuarterTurns, turnBy } from './face-view.ts'
import { HandLine } from './instrument-picker.tsx'
import { NorthArrow } from './north-arrow.tsx'
import type { FilterPlan } from './run-plan.ts'
import { unitChoices, unitOfRun, withUnit } from './run-units.ts'
import type { OpenRun } from './use-run-desk.ts'

type BenchHeadProps = {
  open: OpenRun
  filter: FilterPlan
  turns: QuarterTurns
  northDegrees: number
  /** what the view is where it cannot be turned: a wall from the room, a duct with the air, a terminal as a whole; null where it can */
  fixed: 'wall' | 'duct' | 'whole' | null
  onUndo: () => void
  onRedo: () => void
  children?: ReactNode
}

/** Which run and filter, how it is turned, and the way back. */
export function BenchHead(props: BenchHeadProps) {
  const { open, filter, turns, northDegrees, fixed, onUndo, onRedo, children } = props
  const t = useSay()
  const person = usePerson()
  const { plan, desk, acknowledged } = open
  const run = plan.run.body
  const undoState = useQuery(
    orpc.commands.state.queryOptions({ input: { personId: person?.id ?? '', scope: plan.runId }, enabled: person !== null }),
  )
  const facing = run.facingDegrees
  const isOpen = run.state === 'open'
  // What is on the way can be undone although the project has not told of it yet.
  const canUndo = isOpen && (desk.outbox().items.length > 0 || (undoState.data?.undo ?? null) !== null || acknowledged > 0)
  const canRedo = isOpen && (desk.canRedoHere() || (undoState.data?.redo ?? null) !== null)
  return (
    <header className={styles.head}>
      <div className={styles.title}>
        <h1>{filter.terminal.body.tag}</h1>
        <Link href={`/room/${plan.room.id}`} className={styles.about}>
          {t('readings.title', { room: plan.room.body.number, phase: run.phase })}
        </Link>
      </div>
      <div className={styles.facing}>
        {fixed ? null : <TurnButton label={t('readings.turn_left', {})} to="left" onClick={() => open.setTurns(turnBy(turns, -1))} />}
        {fixed ? null : <NorthArrow degrees={northOnScreenDegrees(northDegrees, facing, turns)} />}
        <span className={styles.facingWords}>
          {fixed === 'wall'
            ? t('readings.facing_wall', {})
            : fixed === null
              ? t('readings.facing', { eighth: facingEighth(northDegrees, facing, turns) })
              : t('ways.terminal', { of: { way: filter.way, direction: airDirectionOf(filter.terminal.body) } })}
        </span>
        {fixed ? null : <TurnButton label={t('readings.turn_right', {})} to="right" onClick={() => open.setTurns(turnBy(turns, 1))} />}
      </div>
      {children}
      {isOpen ? (
        <div className={styles.back}>
          <Button large icon="undo" disabled={!canUndo} {...quietly} onClick={onUndo}>
            <span className={styles.backWord}>{t('readings.tool.undo', {})}</span>
          </Button>
          <Button large icon="redo" disabled={!canRedo} {...quietly} onClick={onRedo}>
            <span className={styles.backWord}>{t('readings.tool.redo', {})}</span>
          </Button>
        </div>
      ) : null}
    </header>
  )
}

/** A quarter turn of the person on the ladder, drawn as one: from straight ahead round to a side. */
function TurnButton({ label, to, onClick }: { label: string; to: 'left' | 'right'; onClick: () => void }) {
  return (
    <Tooltip text={label}>
      <button type="button" className={styles.turn} aria-label={label} {...quietly} onClick={onClick}>
        <svg viewBox="0 0 24 24" width="24" height="24" aria-hidden="true" style={to === 'left' ? { transform: 'scaleX(-1)' } : undefined}>
          <path d="M5 19V15A8 8 0 0 1 13 7h5M14.5 3.5 18 7l-3.5 3.5" />
        </svg>
      </button>
    </Tooltip>
  )
}

type BenchToolsProps = {
  open: OpenRun
  filter: FilterPlan
  panel: Panel
  onPanel: (panel: Panel) => void
  keypad: boolean
  onKeypad: (shown: boolean) => void
  canNote: boolean
}

/** Tools beside the typing: none of them takes the keys away from the face. Where nothing is typed any more, there are none. */
export function BenchTools({ open, filter, panel, onPanel, keypad, onKeypad, canNote }: BenchToolsProps) {
  const t = useSay()
  const { plan, desk, hand } = open
  const instrument = hand.of(filter.quantity)
  const [, go] = useLocation()
  if (plan.run.body.state !== 'open') return null
  return (
    <div className={styles.tools} role="toolbar" aria-label={t('readings.tools', {})}>
      <Button large pressed={panel === 'note'} disabled={!canNote} {...quietly} onClick={() => onPanel('note')}>
        {t('readings.tool.note', {})}
      </Button>
      <Button large pressed={panel === 'paste'} {...quietly} onClick={() => onPanel('paste')}>
        {t('readings.tool.paste', {})}
      </Button>
      <Button large {...quietly} onClick={() => go(`/import?run=${plan.runId}`)}>
        {t('readings.tool.file', {})}
      </Button>
      <Button large {...quietly} onClick={() => void desk.type({ kind: 'repeat', terminalId: filter.terminalId })}>
        {t('readings.tool.repeat', {})}
      </Button>
      {filter.way === 'face_grid' || filter.way === 'plane' ? (
        <Button large pressed={panel === 'grid'} {...quietly} onClick={() => onPanel('grid')}>
          {t('readings.tool.grid', {})}
        </Button>
      ) : null}
      {plan.doors.length > 0 ? (
        <Button large pressed={panel === 'doors'} {...quietly} onClick={() => onPanel('doors')}>
          {t('ways.doors.tool', {})}
        </Button>
      ) : null}
      <Button large pressed={keypad} {...quietly} onClick={() => onKeypad(!keypad)}>
        {t('readings.tool.keypad', {})}
      </Button>
      <UnitSwitch open={open} quantity={filter.quantity} />
      <Button large className={styles.hand} pressed={panel === 'instrument'} {...quietly} onClick={() => onPanel('instrument')}>
        {instrument ? <HandLine plan={plan} instrument={instrument} quantity={filter.quantity} /> : t('readings.tool.instrument', {})}
      </Button>
    </div>
  )
}

/** Pressing a tool leaves the focus on the face, so that the next key is a digit again. */
const quietly = { onMouseDown: (event: React.MouseEvent) => event.preventDefault() }

function UnitSwitch({ open, quantity }: { open: OpenRun; quantity: Quantity }) {
  const t = useSay()
  const toast = useToast()
  const canChange = useCanChange()
  const [busy, setBusy] = useState(false)
  const { plan } = open
  const { display } = useProject().body
  const change = async (unit: Unit) => {
    if (busy || !canChange || plan.run.body.state !== 'open') return
    setBusy(true)
    try {
      await api.runs.edit({
        command: newCommand(),
        runId: plan.runId,
        revision: plan.run.revision,
        set: withUnit(plan.run.body, quantity, unit, display),
      })
      open.reload()
    } catch (error) {
      toast.problem(error)
    } finally {
      setBusy(false)
    }
  }
  return (
    <span {...quietly}>
      <Segmented
        large
        label={quantity === 'velocity' ? t('readings.unit', {}) : t('ways.unit_of', { of: { quantity } })}
        value={unitOfRun(plan.run.body, quantity, display)}
        choices={unitChoices(quantity).map((unit) => ({ value: unit, label: unitLabel(unit) }))}
        onChange={(unit) => void change(unit)}
      />
    </span>
  )
}
