import type { z } from 'zod'
import type { Overview } from '#core/api/evaluation.ts'

export type Notice = z.infer<typeof Overview>['notices'][number]

/** Where a notice's evidence stands; null when it is about nothing that has a screen. */
export function noticeAddress(notice: Notice): string | null {
  const { kind, roomId, entityId } = notice
  switch (kind) {
    case 'due':
      return '/plan'
    case 'calibration':
      return entityId ? `/instruments/${entityId}` : '/instruments'
    case 'failed':
      return roomId ? `/room/${roomId}${entityId && entityId !== roomId ? `?select=${entityId}` : ''}` : null
    case 'replaced':
      return entityId ? `/history/${entityId}` : roomId ? `/room/${roomId}` : null
    case 'info':
      return roomId ? `/room/${roomId}` : null
  }
}
