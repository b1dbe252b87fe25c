import type { z } from 'zod'
import type { contract } from '#core/api/contract.ts'
import type { Entity } from '#core/model/entities.ts'
import { onRun, refuseUnlessOpen } from './runs.ts'
import type { Session } from './session.ts'

type AcceptInput = z.infer<NonNullable<(typeof contract.runs.acceptMisfit)['~orpc']['inputSchema']>>

/** Writes down why a run goes on with something that does not suit. A second reason for the same thing takes the place of the first. */
export function acceptMisfit(session: Session, input: AcceptInput): Entity {
  const { misfit } = input
  if (misfit.terminalId !== null) session.find('terminal', misfit.terminalId, 'misfit.terminalId')
  if (misfit.instrumentId !== null) session.find('instrument', misfit.instrumentId, 'misfit.instrumentId')
  return onRun(
    session,
    'run.misfit',
    input,
    (transaction, run) => {
      refuseUnlessOpen(run)
      const { body } = run.entity
      const others = body.acceptedMisfits.filter(
        ({ code, terminalId, instrumentId }) =>
          code !== misfit.code || terminalId !== misfit.terminalId || instrumentId !== misfit.instrumentId,
      )
      const accepted = { ...misfit, personId: input.command.personId, at: transaction.at }
      transaction.revise(run, { ...body, acceptedMisfits: [...others, accepted] })
    },
    () => session.find('run', input.runId).entity,
  )
}
