import type { Unit, Uuid } from '#core/model/values.ts'
import type { Desk } from '../../../../demo-data/desk.ts'

/** Who works on the file while it is made. */
export type Made = { readonly desk: Desk; readonly technician: Uuid; readonly quality: Uuid }

/** Starts a run of a room or of one zone in it. */
export async function run(
  { desk, technician }: Made,
  certificationId: Uuid,
  roomId: Uuid,
  more: { phase?: 'as_found' | 'as_left'; zoneId?: Uuid; unit?: Unit; samplesPerPoint?: number; averagingTimeS?: number } = {},
): Promise<Uuid> {
  const id = desk.clock.uuid()
  const { phase = 'as_found', zoneId = null, unit = 'm/s', samplesPerPoint = 1, averagingTimeS = 10 } = more
  await desk.api.runs.start({
    command: desk.command(technician),
    id,
    certificationId,
    roomId,
    zoneId,
    method: 'face_velocity_grid',
    phase,
    plane: { kind: 'filter_face', distanceM: 0.15 },
    occupancyState: 'at_rest',
    operatingState: { airHandler: 'normal', doors: 'closed', equipment: 'off' },
    facingDegrees: 90,
    unit,
    averagingTimeS,
    samplesPerPoint,
  })
  desk.clock.pass(60)
  return id
}

/** Types values point by point, all samples of a point after each other; null leaves a point out. */
export async function type({ desk, technician }: Made, runId: Uuid, instrumentId: Uuid, typed: readonly (string | null)[]): Promise<void> {
  const { locations, run: entity } = await desk.api.runs.get({ runId })
  if (entity.kind !== 'run') throw new Error('not a run')
  const { samplesPerPoint, unit } = entity.body
  for (const [index, text] of typed.entries()) {
    const point = locations[Math.floor(index / samplesPerPoint)]?.number
    if (text === null || point === undefined) continue
    const sample = (index % samplesPerPoint) + 1
    const entries = [{ point, sample, typed: text, unit, replaces: null }]
    await desk.api.readings.record({ command: desk.command(technician), runId, instrumentId, entries })
    desk.clock.pass(12)
  }
}

/** The head of a command on a run, at its present revision. */
export async function onRun({ desk }: Made, runId: Uuid, by: Uuid, reason = '') {
  const { run: entity } = await desk.api.runs.get({ runId })
  desk.clock.pass(30)
  return { command: desk.command(by, reason), runId, revision: entity.revision }
}

/** Voids the reading at a point and types another in its place. */
export async function correct(made: Made, runId: Uuid, instrumentId: Uuid, point: number, typed: string, reason = ''): Promise<void> {
  const { readings, run: entity } = await made.desk.api.runs.get({ runId })
  const old = readings.find((reading) => reading.point === point && reading.voided === null)
  if (!old || entity.kind !== 'run') throw new Error(`no reading at point ${point}`)
  const entries = [{ point, sample: 1, typed, unit: entity.body.unit, replaces: old.id }]
  await made.desk.api.readings.record({ command: made.desk.command(made.technician, reason), runId, instrumentId, entries })
  made.desk.clock.pass(12)
}
