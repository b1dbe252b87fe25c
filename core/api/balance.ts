import { z } from 'zod'
import { DoorResult } from '../model/results.ts'
import { AirDirection } from '../model/terminals.ts'
import { Basis, Phase, Uuid } from '../model/values.ts'
import { base } from './base.ts'

const flow = z.number().describe('m3/s')
const flowOrNone = flow.nullable()

/** Why a room has no offset of its own in the balance of the site. */
export const RoomGap = z.enum(['no_run', 'supply_only', 'terminals_missing'])
export type RoomGap = z.infer<typeof RoomGap>

/** One room within the balance of its site. Flows on the basis of the whole answer. */
export const RoomInBalance = z.strictObject({
  roomId: Uuid,
  facilityId: Uuid,
  number: z.string(),
  name: z.string(),
  runId: Uuid.nullable(),
  phase: Phase.nullable(),
  basis: Basis.nullable(),
  gap: RoomGap.nullable(),
  missing: z.array(z.string()).describe('tags of terminals without a flow'),
  supplyM3ps: flow,
  returnM3ps: flow,
  exhaustM3ps: flow,
  recirculatedM3ps: flow,
  offsetM3ps: flowOrNone,
  offsetAtRoomM3ps: flowOrNone,
  offsetPercentOfSupply: z.number().nullable(),
  transferInM3ps: flow,
  transferOutM3ps: flow,
  toOutsideM3ps: flow,
  unaccountedM3ps: flowOrNone,
  doors: z.array(DoorResult),
})
export type RoomInBalance = z.infer<typeof RoomInBalance>

/** Air that is known to go through a door, as it counted; null where it could not be put on the basis of the balance. */
export const CountedTransfer = z.strictObject({
  doorId: Uuid,
  name: z.string(),
  fromRoomId: Uuid,
  toRoomId: Uuid.nullable(),
  flowM3ps: flowOrNone,
  left: z.enum(['no_density', 'room_not_in_balance']).nullable().describe('why it does not count'),
  how: z.string(),
})
export type CountedTransfer = z.infer<typeof CountedTransfer>

/** Supply - return - exhaust = offset = to outside + unaccounted, over every room in scope. */
export const WholeSiteBalance = z.strictObject({
  certificationId: Uuid,
  facilityId: Uuid.nullable(),
  basis: Basis.describe('standard: a balance of mass; as indicated where one room has no conditions, and then it is none'),
  standardKgpm3: z.number().describe('density that the standard flows speak of'),
  supplyM3ps: flow,
  returnM3ps: flow,
  exhaustM3ps: flow,
  recirculatedM3ps: flow,
  offsetM3ps: flowOrNone,
  betweenRoomsM3ps: flow,
  toOutsideM3ps: flow,
  unaccountedM3ps: flowOrNone,
  rooms: z.array(RoomInBalance),
  transfers: z.array(CountedTransfer),
})
export type WholeSiteBalance = z.infer<typeof WholeSiteBalance>

/** One air system in one direction against what its fan should move. */
export const SystemInBalance = z.strictObject({
  airSystemId: Uuid,
  name: z.string(),
  facilityId: Uuid,
  direction: AirDirection,
  flowM3ps: flowOrNone,
  soFarM3ps: flow,
  terminals: z.number().int(),
  missing: z.array(z.string()),
  inDuctM3ps: flowOrNone.describe('measured in ducts of the system that count in no room; more than the terminals where ducts leak'),
  designFlowM3ps: flowOrNone,
  percentOfDesign: z.number().nullable(),
})
export type SystemInBalance = z.infer<typeof SystemInBalance>

export const SystemsBalance = z.strictObject({
  certificationId: Uuid,
  facilityId: Uuid.nullable(),
  basis: Basis.describe('of the flows; the designs are read on it'),
  systems: z.array(SystemInBalance),
})
export type SystemsBalance = z.infer<typeof SystemsBalance>

const scope = z.strictObject({ certificationId: Uuid, facilityId: Uuid.nullable().describe('null: the whole site') })

/** How the air of a site adds up, from the current runs of a visit. */
export const balance = {
  site: base.input(scope).output(WholeSiteBalance),
  systems: base.input(scope).output(SystemsBalance),
}
