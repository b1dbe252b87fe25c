import { useSyncExternalStore } from 'react'
import type { Connection, ConnectionState } from './connection.ts'

export function useConnectionState(connection: Connection): ConnectionState {
  return useSyncExternalStore(connection.state.subscribe, connection.state.get)
}
