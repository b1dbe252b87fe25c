import type { EntityChange } from '#core/api/entities.ts'
import type { CommandName } from '#core/model/audit.ts'
import type { Entity } from '#core/model/entities.ts'
import type { RoomPlan } from '../room-plan.ts'
import { ArrayForm } from './array-form.tsx'
import { CopyForm } from './copy-form.tsx'
import { DoorPanel } from './door-panel.tsx'
import type { EditorActions } from './editor-actions.ts'
import type { EditorTask } from './editor-keys.ts'
import { ghostFaces, type Preview } from './preview.ts'
import { RoomPanel } from './room-panel.tsx'
import { TagForm } from './tag-form.tsx'
import { TerminalPanel } from './terminal-panel.tsx'
import { ZonePanel } from './zone-panel.tsx'

type EditorPanelProps = {
  plan: RoomPlan
  criteriaSets: readonly Entity<'criteria_set'>[]
  selection: ReadonlySet<string>
  task: EditorTask | null
  actions: EditorActions
  change: (name: CommandName, changes: readonly EntityChange[], reason?: string) => void
  show: (preview: Preview) => void
  onEnd: () => void
}

/** The side panel of the editor: the form of a task under way, else the properties of the selection, else those of the room. */
export function EditorPanel({ plan, criteriaSets, selection, task, actions, change, show, onEnd }: EditorPanelProps) {
  const { chosen } = actions
  const key = [...selection].join()
  if (task === 'array')
    return (
      <ArrayForm
        plan={plan}
        like={chosen[0]?.body ?? plan.terminals.at(-1)?.body ?? null}
        onPreview={(centres, width, depth) => show({ kind: 'ghosts', faces: ghostFaces(centres, width, depth) })}
        onPlace={(array) => {
          actions.placeArray(array)
          onEnd()
        }}
        onCancel={onEnd}
      />
    )
  if (task === 'copy' && chosen.length > 0)
    return (
      <CopyForm
        terminals={chosen}
        onCopy={(offsets) => {
          actions.copy(offsets)
          onEnd()
        }}
        onCancel={onEnd}
      />
    )
  if (task === 'tags' && chosen.length > 0)
    return (
      <TagForm
        plan={plan}
        terminals={chosen}
        onTag={(tags) => {
          actions.tag(tags)
          onEnd()
        }}
        onCancel={onEnd}
      />
    )
  if (chosen.length > 0) return <TerminalPanel key={key} plan={plan} terminals={chosen} change={change} />
  const zone = plan.zones.find((candidate) => selection.has(candidate.id))
  if (zone) return <ZonePanel key={key} plan={plan} zone={zone} criteriaSets={criteriaSets} change={change} />
  const door = plan.doors.find((candidate) => selection.has(candidate.id))
  if (door) return <DoorPanel key={key} plan={plan} door={door} change={change} />
  return <RoomPanel plan={plan} criteriaSets={criteriaSets} change={change} />
}
