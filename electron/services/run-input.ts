import { withCarried } from '#core/methods/airflow/carried-readings.ts'
import { inPathOrder } from '#core/methods/airflow/layout.ts'
import { setsInForce } from '#core/methods/airflow/rules-in-force.ts'
import type { MeasuredPoint, MeasuredValue, RunInput } from '#core/methods/method.ts'
import type { EntityBody, EntityKind } from '#core/model/entities.ts'
import type { Location, ReadingFlag } from '#core/model/readings.ts'
import type { Quantity } from '#core/model/values.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { instrumentAndQuarterOf, parseFlags, rowAndColumnOf } from '../project-file/readings.ts'
import type { CalculationPin } from '../project-file/runs.ts'
import { certificatesSince, lastReadOf } from './certificates.ts'
import type { Session } from './session.ts'

type PinOf<K extends EntityKind> = Omit<CalculationPin, 'body'> & { readonly body: EntityBody<K> }

function ofKind<K extends EntityKind>(pins: readonly CalculationPin[], kind: K): readonly PinOf<K>[] {
  // A pin's kind and body come from the same row.
  return pins.filter((pin): pin is CalculationPin & PinOf<K> => pin.kind === kind)
}

const NO_FLAGS: readonly ReadingFlag[] = []

/** What a run's calculation looks at besides its points and readings: the revisions it pinned. */
export function pinnedInput(
  session: Session,
  run: StoredEntity<'run'>,
): Omit<RunInput, 'locations' | 'values' | 'voidedByTerminal'> & { readonly uuids: ReadonlyMap<number, string> } {
  const { pins, models } = session.stores.runs.pinsOfCalculation(run.rowId)
  const uuids = new Map(pins.map((pin) => [pin.rowId, pin.id]))
  const [room] = ofKind(pins, 'room')
  if (!room) throw new Error(`run ${run.entity.id} has no room pinned`)
  const zones = ofKind(pins, 'zone')
  return {
    runId: run.entity.id,
    run: run.entity.body,
    room,
    zones,
    terminals: inPathOrder(ofKind(pins, 'terminal')),
    instruments: ofKind(pins, 'instrument'),
    calibrations: ofKind(pins, 'calibration').map(({ parentId, ...calibration }) => ({ ...calibration, instrumentId: parentId ?? '' })),
    ...setsInForce(room, zones, ofKind(pins, 'criteria_set')),
    // Runs of earlier programs pinned no facility: their figures never move with its altitude.
    facilityAltitudeM: ofKind(pins, 'facility')[0]?.body.altitudeM ?? null,
    doors: ofKind(pins, 'door'),
    filterModels: new Map([...models].map(([rowId, model]) => [uuids.get(rowId) ?? '', model])),
    uuids,
  }
}

/** Everything a run's calculation may look at: see {@link ownInput}, with the as-found readings that it carries. */
export function runInput(session: Session, run: StoredEntity<'run'>): RunInput {
  const input = ownInput(session, run)
  const groups = run.entity.body.carried.flatMap(({ terminalIds, fromRunId }) => {
    const source = session.stores.entities.find(fromRunId)
    // A removed run carries nothing; its terminals read as not measured.
    if (source?.entity.kind !== 'run' || source.entity.removed) return []
    return [{ terminalIds, from: ownInput(session, session.find('run', fromRunId)) }]
  })
  return withCarried(input, groups)
}

/**
 * Everything that belongs to a run itself, read in plain rows ordered by location: pinned revisions, own layout, valid readings. While
 * a run is not signed, certificates made since may release what was read past due.
 */
function ownInput(session: Session, run: StoredEntity<'run'>): RunInput {
  const { stores, localDates } = session
  const { uuids, ...pinned } = pinnedInput(session, run)
  const { locations, values } = measuredOf(stores.readings.measured(run.rowId), uuids, (quarter) => localDates.ofQuarter(quarter))
  const since = certificatesSince(
    session.certificates,
    run,
    pinned,
    lastReadOf(() => values.map(({ instrumentId, localDate }) => ({ instrumentId, on: localDate }))),
  ).map(({ entity }) => ({ id: entity.id, revision: entity.revision, body: entity.body, instrumentId: entity.parentId ?? '' }))
  const newer = new Set(since.map(({ id }) => id))
  return {
    ...pinned,
    calibrations: newer.size === 0 ? pinned.calibrations : [...pinned.calibrations.filter(({ id }) => !newer.has(id)), ...since],
    locations,
    values,
    voidedByTerminal: new Map(
      stores.readings
        .voidedByTerminal(run.rowId)
        .flatMap(([terminal, count]) => (terminal === null ? [] : [[uuids.get(terminal) ?? '', count] as const])),
    ),
  }
}

/** Splits the joined rows into points and values; one point may have several samples. What follows each other mostly shares terminal, instrument and day. */
function measuredOf(
  rows: ReturnType<Session['stores']['readings']['measured']>,
  uuids: ReadonlyMap<number, string>,
  localDate: (quarter: number) => string,
): { locations: MeasuredPoint[]; values: MeasuredValue[] } {
  const locations: MeasuredPoint[] = []
  const values: MeasuredValue[] = []
  const terminalOf = rememberLast((row: number) => uuids.get(row) ?? null)
  const takenOf = rememberLast((taken: number) => {
    const { instrumentRowId, quarter } = instrumentAndQuarterOf(taken)
    return { instrumentId: uuids.get(instrumentRowId) ?? '', on: localDate(quarter) }
  })
  let previous = 0
  // Columns are taken by place: taking a row apart walks an iterator over all of them.
  for (const measured of rows) {
    const point = measured[0]
    const unusual = measured[1] === null ? null : unusualOf(measured[1])
    if (point !== previous) {
      previous = point
      const { row, column } = rowAndColumnOf(measured[3])
      locations.push({
        number: point,
        kind: unusual ? unusual.kind : 'filter_point',
        terminalId: measured[2] === null ? null : terminalOf(measured[2]),
        row,
        column,
        cellAreaM2: measured[4],
      })
    }
    const si = measured[5]
    if (si === null || measured[6] === null) continue
    const { instrumentId, on } = takenOf(measured[6])
    if (unusual === null) values.push({ point, si, flags: NO_FLAGS, instrumentId, localDate: on })
    else values.push({ point, si, flags: unusual.flags, instrumentId, localDate: on, quantity: unusual.quantity })
  }
  return { locations, values }
}

/** Kind, quantity and flags of a row that is not a plain velocity at a filter point. Only words of the model are ever written. */
function unusualOf(text: string): { kind: Location['kind']; quantity: Quantity; flags: readonly ReadingFlag[] } {
  const [kind, quantity, flags] = text.split(',')
  return { kind: kind as Location['kind'], quantity: quantity as Quantity, flags: flags ? parseFlags(flags) : NO_FLAGS }
}

function rememberLast<T>(find: (key: number) => T): (key: number) => T {
  let last: { readonly key: number; readonly found: T } | null = null
  return (key) => {
    if (last?.key !== key) last = { key, found: find(key) }
    return last.found
  }
}
