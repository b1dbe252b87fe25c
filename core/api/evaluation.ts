import { z } from 'zod'
import { CertificationState, RoomState, RunResult, Sentence } from '../model/results.ts'
import { Uuid } from '../model/values.ts'
import { base } from './base.ts'
import { budget } from './budgets.ts'

export const Overview = z.strictObject({
  certificationId: Uuid.nullable(),
  state: CertificationState.nullable(),
  notices: z.array(
    z.strictObject({
      kind: z.enum(['due', 'calibration', 'failed', 'replaced', 'info']),
      sentence: Sentence,
      roomId: Uuid.nullable(),
      entityId: Uuid.nullable(),
    }),
  ),
})

export const evaluation = {
  overview: base.input(z.strictObject({ certificationId: Uuid.nullable().describe('null: the latest') })).output(Overview),
  certification: base.input(z.strictObject({ certificationId: Uuid })).output(CertificationState),
  room: base
    .input(z.strictObject({ certificationId: Uuid, roomId: Uuid }))
    .output(z.strictObject({ state: RoomState, results: z.array(RunResult) })),
  run: base.input(z.strictObject({ runId: Uuid })).output(RunResult),
  budget,
}
