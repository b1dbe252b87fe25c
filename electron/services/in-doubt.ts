import type { z } from 'zod'
import type { Overview } from '#core/api/evaluation.ts'
import { daysInDoubt, type InstrumentDays, runsInDoubt } from '#core/history/in-doubt.ts'
import { message } from '#core/messages/say.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { runInput } from './run-input.ts'
import { inputRevisionOf } from './run-results.ts'
import { runsReadWith } from './runs-read-with.ts'
import type { Session } from './session.ts'

type Notice = z.infer<typeof Overview>['notices'][number]

/** So many runs are named in a sentence; the others are counted. */
const NAMED_RUNS = 5

/** One notice for each certificate that found an instrument out of tolerance after runs were made with it; also of instruments no longer in use. */
export function doubtNotices(session: Session): Notice[] {
  return session.stores.entities.list('instrument').flatMap((instrument) => noticesOf(session, instrument))
}

function noticesOf(session: Session, instrument: StoredEntity<'instrument'>): Notice[] {
  const { entity } = instrument
  const certificates = session.certificates.of(entity.id).map((certificate) => certificate.entity.body)
  if (daysInDoubt(certificates).length === 0) return []
  const { own, carrying } = runsReadWith(session, instrument)
  const standing = [...own, ...carrying]
  const days = [
    // A run of its own may carry readings of the instrument besides.
    ...own.map((run): InstrumentDays => ({ runId: run.entity.id, uses: daysRead(session, run, instrument) })),
    ...standing
      .filter((run) => run.entity.body.carried.length > 0)
      .map((run): InstrumentDays => ({ runId: run.entity.id, uses: daysCarried(session, run, instrument) })),
  ]
  return runsInDoubt(entity.id, certificates, days).flatMap(({ runIds, from, to, certificateNumber, deviation }): Notice[] => {
    if (runIds.length === 0) return []
    const reached = new Set(runIds)
    const names = standing.filter((run) => reached.has(run.entity.id)).map((run) => nameOf(session, run))
    const params = {
      name: `${entity.body.name} (${entity.body.serialNumber})`,
      certificate: certificateNumber,
      on: to,
      since: from,
      deviation,
      named: names.slice(0, NAMED_RUNS),
      more: Math.max(0, names.length - NAMED_RUNS),
    }
    return [{ kind: 'calibration', sentence: message('notice.in_doubt', params), roomId: null, entityId: entity.id }]
  })
}

type Kept = { readonly revision: string; readonly days: readonly string[] }
/** Days once read off a run's readings, for as long as the run is what it was: the overview is asked for often. */
const daysKept = new WeakMap<Session, Map<string, Kept>>()

function daysRead(session: Session, run: StoredEntity<'run'>, instrument: StoredEntity<'instrument'>): InstrumentDays['uses'] {
  return rememberedDays(session, run, instrument, 'own', () =>
    session.stores.readings.quartersRead(run.rowId, instrument.rowId).map((atMs) => session.localDates.of(atMs)),
  )
}

/** Days on which the instrument read what the run counts, carried readings among them. */
function daysCarried(session: Session, run: StoredEntity<'run'>, instrument: StoredEntity<'instrument'>): InstrumentDays['uses'] {
  return rememberedDays(session, run, instrument, 'carried', () =>
    runInput(session, run).values.flatMap(({ instrumentId, localDate }) => (instrumentId === instrument.entity.id ? [localDate] : [])),
  )
}

function rememberedDays(
  session: Session,
  run: StoredEntity<'run'>,
  instrument: StoredEntity<'instrument'>,
  which: 'own' | 'carried',
  read: () => string[],
): InstrumentDays['uses'] {
  const kept = daysKept.get(session) ?? new Map<string, Kept>()
  daysKept.set(session, kept)
  const key = `${run.rowId}.${instrument.rowId}.${which}`
  const revision = `${inputRevisionOf(session, run)} ${session.timeZone}`
  const known = kept.get(key)
  const days = known?.revision === revision ? known.days : [...new Set(read())]
  kept.set(key, { revision, days })
  return days.map((on) => ({ instrumentId: instrument.entity.id, on }))
}

function nameOf(session: Session, run: StoredEntity<'run'>): { room: string; visit: string } {
  const room = session.stores.entities.find(run.entity.body.roomId)
  const visit = session.stores.entities.find(run.entity.parentId ?? '')
  return {
    room: room?.entity.kind === 'room' ? room.entity.body.number : '',
    visit: visit?.entity.kind === 'certification' ? visit.entity.body.name : '',
  }
}
