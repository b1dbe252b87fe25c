import { EditorScreen } from './edit/editor-screen.tsx'
import { NewRoomScreen } from './edit/new-room-screen.tsx'
import { MapScreen } from './map/map-screen.tsx'

/** The plan of a room; the address /room/new stands for one that is still to be drawn. */
export function RoomMapScreen({ roomId }: { roomId: string }) {
  return roomId === 'new' ? <NewRoomScreen /> : <MapScreen roomId={roomId} />
}

export function RoomEditorScreen({ roomId }: { roomId: string }) {
  return <EditorScreen roomId={roomId} />
}
