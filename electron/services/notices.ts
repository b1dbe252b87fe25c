import type { z } from 'zod'
import type { Overview } from '#core/api/evaluation.ts'
import { message } from '#core/messages/say.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { CertificationState } from '#core/model/results.ts'
import { daysBetween, dueDate } from '#core/planning/dates.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { doubtNotices } from './in-doubt.ts'
import type { Session } from './session.ts'

type Notice = z.infer<typeof Overview>['notices'][number]

/** Intervals to start from: 6 months where a grade A or unidirectional area is in scope, else 12 (EU GMP Annex 1, 4.32). */
const INTERVAL_MONTHS = { critical: 6, other: 12 } as const
const WARN_DAYS = 60

/** What a person should know before anything else: what is due, ends, failed or was replaced. */
export function noticesOf(session: Session, visit: StoredEntity<'certification'> | null, state: CertificationState | null): Notice[] {
  const today = session.localDates.of(session.options.clock())
  return [
    ...(visit ? dueNotice(session, visit, today) : []),
    ...doubtNotices(session),
    ...calibrationNotices(session, visit, today),
    ...(state ? failedNotices(session, state) : []),
    ...(visit ? replacedNotices(session, visit) : []),
  ]
}

/** When this visit has to be repeated at the latest. */
function nextDueOn(session: Session, visit: StoredEntity<'certification'>): string {
  const critical = visit.entity.body.roomIds.some((id) => {
    const room = session.stores.entities.find(id)
    return room?.entity.kind === 'room' && isCritical(room.entity.body)
  })
  return dueDate(visit.entity.body.endsOn, critical ? INTERVAL_MONTHS.critical : INTERVAL_MONTHS.other)
}

function isCritical(room: EntityBody<'room'>): boolean {
  return room.airflowType === 'unidirectional' || ['ISO 1', 'ISO 2', 'ISO 3', 'ISO 4', 'ISO 4.5', 'ISO 5'].includes(room.cleanlinessClass)
}

function dueNotice(session: Session, visit: StoredEntity<'certification'>, today: string): Notice[] {
  const on = nextDueOn(session, visit)
  const days = daysBetween(today, on)
  const params = { name: visit.entity.body.name, on, days: Math.abs(days) }
  const sentence = days < 0 ? message('notice.overdue', params) : message('notice.due', params)
  return [{ kind: 'due', sentence, roomId: null, entityId: visit.entity.id }]
}

function calibrationNotices(session: Session, visit: StoredEntity<'certification'> | null, today: string): Notice[] {
  return session.stores.entities
    .list('instrument')
    .filter(({ entity }) => entity.body.active)
    .flatMap(({ rowId, entity }): Notice[] => {
      const name = `${entity.body.name} (${entity.body.serialNumber})`
      const dueDates = session.stores.entities.list('calibration', { within: rowId }).map((calibration) => calibration.entity.body.dueOn)
      const on = dueDates.sort().at(-1)
      const about = { kind: 'calibration', roomId: null, entityId: entity.id } as const
      if (on === undefined) return [{ ...about, sentence: message('notice.never_calibrated', { name }) }]
      const planned = visit && !visit.entity.body.finished ? visit.entity.body : null
      if (on < today) return [{ ...about, sentence: message('notice.calibration_past', { name, on }) }]
      if (planned && on >= planned.startsOn && on < planned.endsOn) {
        return [{ ...about, sentence: message('notice.calibration_in_visit', { name, on, visit: planned.name }) }]
      }
      const days = daysBetween(today, on)
      return days <= WARN_DAYS ? [{ ...about, sentence: message('notice.calibration_ends', { name, on, days }) }] : []
    })
}

function failedNotices(session: Session, state: CertificationState): Notice[] {
  return state.rooms.flatMap((room): Notice[] => {
    const stored = session.stores.entities.find(room.roomId)
    if (stored?.entity.kind !== 'room' || (room.verdict !== 'fail' && !room.failedAsFound)) return []
    const params = { room: stored.entity.body.number }
    const sentence = room.verdict === 'fail' ? message('notice.failed', params) : message('notice.failed_as_found', params)
    return [{ kind: 'failed', sentence, roomId: room.roomId, entityId: room.roomId }]
  })
}

/** Filters that were exchanged since the visit before this one. */
function replacedNotices(session: Session, visit: StoredEntity<'certification'>): Notice[] {
  const { previousId } = visit.entity.body
  const previous = previousId === null ? null : session.stores.entities.find(previousId)
  const since = previous?.entity.kind === 'certification' ? previous.entity.body.endsOn : visit.entity.body.startsOn
  return session.stores.entities.elementsExchangedAfter(since).map(({ terminalId, tag, roomId, installedOn }) => ({
    kind: 'replaced',
    sentence: message('notice.replaced', { tag, on: installedOn }),
    roomId,
    entityId: terminalId,
  }))
}
