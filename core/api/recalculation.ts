import { z } from 'zod'
import { Verdict } from '../model/criteria.ts'
import { MethodId } from '../model/runs.ts'
import { Phase, PlainDate, Uuid } from '../model/values.ts'
import { base } from './base.ts'

const figure = z.number().nullable()

/** The key figures of a run, one way of counting its readings. */
export const KeyFigures = z.strictObject({
  verdict: Verdict,
  meanVelocityMps: figure,
  supplyFlowM3ps: figure,
  airChangesPerHour: figure,
  offsetM3ps: figure,
  failing: z.number().int().describe('criteria that fail'),
})
export type KeyFigures = z.infer<typeof KeyFigures>

/** One run that an instrument in doubt was read in: as it stands, corrected, and without the readings in doubt. Nothing is rewritten. */
export const RecalculatedRun = z.strictObject({
  runId: Uuid,
  certificationId: Uuid,
  certification: z.string(),
  roomId: Uuid,
  room: z.string(),
  method: MethodId,
  phase: Phase,
  state: z.enum(['open', 'complete', 'signed']),
  readings: z.number().int().describe('readings in doubt'),
  ofReadings: z.number().int(),
  stands: KeyFigures,
  corrected: KeyFigures.nullable().describe('null: the certificate has no points for what was read'),
  without: KeyFigures,
})
export type RecalculatedRun = z.infer<typeof RecalculatedRun>

/** A certificate that found the instrument out of tolerance, with every run it touches. */
export const DoubtOfCertificate = z.strictObject({
  calibrationId: Uuid,
  certificateNumber: z.string(),
  from: PlainDate.nullable().describe('day of the calibration before; null: since ever'),
  to: PlainDate,
  deviation: z.string().nullable(),
  points: z.number().int(),
  runs: z.array(RecalculatedRun),
})
export type DoubtOfCertificate = z.infer<typeof DoubtOfCertificate>

/** What it would mean for figures and verdicts that an instrument was found out of tolerance. */
export const recalculation = {
  preview: base.input(z.strictObject({ instrumentId: Uuid })).output(z.array(DoubtOfCertificate)),
}
