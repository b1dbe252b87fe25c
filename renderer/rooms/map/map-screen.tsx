import { Gone } from '#renderer/app/gone.tsx'
import { useFailureText, useSay } from '#renderer/app/session.tsx'
import { Busy } from '#renderer/ui/busy.tsx'
import { useRoomPlan } from '../room-plan.ts'
import { RoomMap } from './room-map.tsx'

/** The room's plan with the verdicts of a certification on it. */
export function MapScreen({ roomId }: { roomId: string }) {
  const t = useSay()
  const failureText = useFailureText()
  const answer = useRoomPlan(roomId)
  switch (answer.state) {
    case 'waiting':
      return <Busy label={t('app.loading', {})} />
    case 'failed':
      return <Gone icon="warn" title={failureText(answer.error)} />
    case 'missing':
      return <Gone icon="room" title={t('map.room.missing', {})} />
    case 'here':
      return <RoomMap plan={answer.plan} />
  }
}
