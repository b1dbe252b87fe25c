import { Gone } from '#renderer/app/gone.tsx'
import { useCanChange, useFailureText, useSay } from '#renderer/app/session.tsx'
import { Busy } from '#renderer/ui/busy.tsx'
import { MapScreen } from '../map/map-screen.tsx'
import { RoomEditor } from './room-editor.tsx'
import { useRoomEdits } from './room-edits.ts'

/** The editor of a room. Without the right to change anything it is the map. */
export function EditorScreen({ roomId }: { roomId: string }) {
  const t = useSay()
  const failureText = useFailureText()
  const canChange = useCanChange()
  const edits = useRoomEdits(roomId)
  if (!canChange) return <MapScreen roomId={roomId} />
  if (edits.error) return <Gone icon="warn" title={failureText(edits.error)} />
  if (edits.waiting) return <Busy label={t('app.loading', {})} />
  if (!edits.plan) return <Gone icon="room" title={t('map.room.missing', {})} />
  return <RoomEditor plan={edits.plan} criteriaSets={edits.criteriaSets} facilities={edits.facilities} change={edits.change} />
}
