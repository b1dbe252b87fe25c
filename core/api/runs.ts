import { z } from 'zod'
import { AnyEntity } from '../model/entities.ts'
import { Location, Reading } from '../model/readings.ts'
import { Signature, SignatureMeaning } from '../model/results.ts'
import { AcceptedMisfit, Certification, Conditions, DoorPressure, MethodId, MissingReason, OperatingState, Run } from '../model/runs.ts'
import { MeasuringPlane, OccupancyState, Phase, PlainDate, Unit, Uuid } from '../model/values.ts'
import { base, Command } from './base.ts'
import { acceptMisfit } from './misfits.ts'

export const certifications = {
  /** Starts a visit from an earlier one: rooms in use carry over. */
  startFrom: base
    .input(
      z.strictObject({
        command: Command,
        id: Uuid,
        previousId: Uuid.nullable(),
        name: Certification.shape.name,
        startsOn: PlainDate,
        endsOn: PlainDate,
        purpose: Certification.shape.purpose,
        why: Certification.shape.why,
        roomIds: z.array(Uuid),
      }),
    )
    .output(AnyEntity),
  remaining: base.input(z.strictObject({ certificationId: Uuid })).output(
    z.strictObject({
      filters: z.number(),
      readings: z.number(),
      minutes: z.number(),
      rooms: z.array(z.strictObject({ roomId: Uuid, filters: z.number(), readings: z.number() })),
    }),
  ),
}

export const RunDetail = z.strictObject({
  run: AnyEntity,
  pins: z
    .array(AnyEntity)
    .describe(
      'room, zones, terminals, filter elements, criteria set, instruments, calibrations at the revisions this run uses; until it is signed also later calibrations, which may release what was read past due',
    ),
  stale: z.array(Uuid).describe('pinned entities that have a newer revision now, and calibrations not pinned that would cover readings'),
  locations: z.array(Location),
  readings: z.array(Reading),
  signatures: z.array(Signature).describe('in the order of signing'),
})

export const runs = {
  list: base.input(z.strictObject({ certificationId: Uuid })).output(z.array(AnyEntity)),
  get: base.input(z.strictObject({ runId: Uuid })).output(RunDetail),
  start: base
    .input(
      z.strictObject({
        command: Command,
        id: Uuid,
        certificationId: Uuid,
        roomId: Uuid,
        zoneId: Uuid.nullable(),
        method: MethodId,
        phase: Phase,
        plane: MeasuringPlane,
        occupancyState: OccupancyState,
        operatingState: OperatingState,
        facingDegrees: Run.shape.facingDegrees,
        unit: Unit,
        averagingTimeS: z.number().positive(),
        samplesPerPoint: z.number().int().min(1).max(20),
        planeGrid: Run.shape.planeGrid,
        otherUnits: Run.shape.otherUnits,
      }),
    )
    .output(RunDetail),
  setGrid: base
    .input(
      z.strictObject({
        command: Command,
        runId: Uuid,
        revision: z.number().int(),
        terminalIds: z.array(Uuid).min(1),
        rows: z.number().int().min(1).max(40),
        columns: z.number().int().min(1).max(40),
      }),
    )
    .output(RunDetail),
  readCautions: base
    .input(z.strictObject({ command: Command, runId: Uuid, revision: z.number().int(), cautions: z.array(z.string()) }))
    .output(AnyEntity),
  edit: base
    .input(
      z.strictObject({
        command: Command,
        runId: Uuid,
        revision: z.number().int(),
        set: z.strictObject({
          unit: Unit.optional(),
          averagingTimeS: z.number().positive().optional(),
          operatingState: OperatingState.optional(),
          conditions: Conditions.optional(),
          instrumentConditions: Conditions.nullable().optional(),
          otherUnits: z.strictObject({ flow: Unit, pressure: Unit }).nullable().optional(),
          doorPressures: z.array(DoorPressure).optional(),
          planeGrid: Run.shape.planeGrid.unwrap().optional(),
          acceptedMisfits: z.array(AcceptedMisfit).optional(),
          carried: Run.shape.carried.unwrap().optional(),
          missing: z.array(MissingReason).optional(),
          note: z.string().max(4000).optional(),
        }),
      }),
    )
    .output(AnyEntity),
  acceptMisfit,
  refresh: base.input(z.strictObject({ command: Command, runId: Uuid, revision: z.number().int() })).output(RunDetail),
  complete: base.input(z.strictObject({ command: Command, runId: Uuid, revision: z.number().int() })).output(AnyEntity),
  reopen: base.input(z.strictObject({ command: Command, runId: Uuid, revision: z.number().int() })).output(AnyEntity),
  sign: base
    .input(z.strictObject({ command: Command, runId: Uuid, revision: z.number().int(), meaning: SignatureMeaning }))
    .output(AnyEntity),
}
