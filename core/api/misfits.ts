import { z } from 'zod'
import { AnyEntity } from '../model/entities.ts'
import { AcceptedMisfit } from '../model/runs.ts'
import { Uuid } from '../model/values.ts'
import { base, Command } from './base.ts'

/** A certifier goes on although something does not suit, with a written reason; who and when are those of the command. */
export const acceptMisfit = base
  .input(
    z.strictObject({
      command: Command,
      runId: Uuid,
      revision: z.number().int(),
      misfit: AcceptedMisfit.pick({ code: true, terminalId: true, instrumentId: true, reason: true }),
    }),
  )
  .output(AnyEntity)
