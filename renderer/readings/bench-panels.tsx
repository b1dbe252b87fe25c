import { useSay } from '../app/session.tsx'
import { Button } from '../ui/button.tsx'
import { ConditionsPanel } from './air/conditions-panel.tsx'
import { DoorsPanel } from './doors-panel.tsx'
import { GridPanel } from './grid-panel.tsx'
import { InstrumentPicker } from './instrument-picker.tsx'
import { MisfitList } from './misfit-list.tsx'
import { NotePanel } from './note-panel.tsx'
import { PastePanel } from './paste-panel.tsx'
import type { PastePlan } from './paste-plan.ts'
import { PlaneGridPanel } from './plane-grid-panel.tsx'
import type { FilterPlan } from './run-plan.ts'
import sideStyles from './side-panel.module.css'
import { keyOf, type Place } from './typing.ts'
import type { OpenRun } from './use-run-desk.ts'

export type Panel = 'instrument' | 'note' | 'paste' | 'grid' | 'air' | 'doors' | 'misfits' | null

type BenchPanelsProps = {
  open: OpenRun
  filter: FilterPlan
  panel: Panel
  altitudeM: number | null
  notePlace: Place | null
  block: string
  onBlock: (text: string) => void
  paste: PastePlan | null
  onClose: () => void
}

/** What opens beside the typing, one at a time, and never over it. */
export function BenchPanels({ open, filter, panel, altitudeM, notePlace, block, onBlock, paste, onClose }: BenchPanelsProps) {
  const t = useSay()
  const { desk, plan, hand } = open
  const noteFilter = notePlace ? plan.filterOf.get(plan.terminalOfPoint.get(notePlace.point) ?? '') : undefined
  const closePaste = () => {
    onBlock('')
    onClose()
  }
  switch (panel) {
    case 'note':
      return notePlace && noteFilter ? (
        <NotePanel
          key={keyOf(notePlace)}
          tag={noteFilter.terminal.body.tag}
          order={noteFilter.points.findIndex((point) => point.number === notePlace.point) + 1}
          note={desk.noteAt(notePlace)}
          stored={desk.at(notePlace) !== null}
          onSave={(note) => desk.note(notePlace, note, t('readings.note.reason', {}))}
          onClose={onClose}
        />
      ) : null
    case 'paste':
      return (
        <PastePanel
          tag={filter.terminal.body.tag}
          way={filter.way}
          text={block}
          onText={onBlock}
          plan={paste}
          onSave={() => {
            if (paste) desk.paste(paste.values, t('readings.paste.reason', {}))
            closePaste()
          }}
          onClose={closePaste}
        />
      )
    case 'air':
      return <ConditionsPanel key={plan.run.revision} open={open} altitudeM={altitudeM} onClose={onClose} />
    case 'doors':
      return <DoorsPanel key={plan.run.revision} open={open} onClose={onClose} />
    case 'grid':
      return filter.way === 'plane' ? (
        <PlaneGridPanel key={plan.run.revision} open={open} filter={filter} onClose={onClose} />
      ) : (
        <GridPanel key={filter.terminalId} open={open} filter={filter} onClose={onClose} />
      )
    case 'instrument':
      return (
        <div className={sideStyles.panel}>
          <p className={sideStyles.title}>{t('ways.with', { of: { quantity: filter.quantity } })}</p>
          <InstrumentPicker
            plan={plan}
            instruments={hand.instruments}
            quantity={filter.quantity}
            onlyAble
            picked={hand.of(filter.quantity)?.id ?? null}
            onPick={(id) => {
              hand.pick(id, filter.quantity)
              onClose()
            }}
          />
          <p className={sideStyles.title}>{t('ways.misfits', {})}</p>
          <MisfitList open={open} />
          <ClosePanel onClose={onClose} />
        </div>
      )
    case 'misfits':
      return (
        <div className={sideStyles.panel}>
          <p className={sideStyles.title}>{t('ways.misfits', {})}</p>
          <MisfitList open={open} />
          <ClosePanel onClose={onClose} />
        </div>
      )
    case null:
      return null
  }
}

function ClosePanel({ onClose }: { onClose: () => void }) {
  const t = useSay()
  return (
    <div className={sideStyles.actions}>
      <Button large onClick={onClose}>
        {t('ways.misfits.close', {})}
      </Button>
    </div>
  )
}

/** Stands where a terminal is read as something that no instrument in the hand senses: nothing can be typed there before one is chosen. */
export function PickForQuantity({ open, filter }: { open: OpenRun; filter: FilterPlan }) {
  const t = useSay()
  const { plan, hand } = open
  const { quantity } = filter
  if (hand.of(quantity) || !hand.loaded || plan.run.body.state !== 'open') return null
  return (
    <div className={sideStyles.panel}>
      <p className={sideStyles.title}>{t('ways.pick_for', { tag: filter.terminal.body.tag, of: { quantity } })}</p>
      <InstrumentPicker
        plan={plan}
        instruments={hand.instruments}
        quantity={quantity}
        picked={null}
        onlyAble
        onPick={(id) => hand.pick(id, quantity)}
      />
    </div>
  )
}
