import { z } from 'zod'
import { Command } from '#core/api/base.ts'
import { CommandName } from '#core/model/audit.ts'
import { openSecondWriter } from '../project-file/second-writer.ts'
import type { ImportWatch } from './imports/job.ts'
import { WriterOpening } from './imports/job.ts'
import { Session } from './session.ts'
import { turn } from './undo.ts'

/** Taking back or bringing back so many readings that nobody should wait for the engine meanwhile. */
export const TurnJob = z.strictObject({
  kind: z.enum(['undo', 'redo']),
  projectPath: z.string(),
  command: Command,
  scope: z.string(),
  nowMs: z.number(),
  writer: WriterOpening,
})
export type TurnJob = z.infer<typeof TurnJob>

/** The command that was taken back or brought back. */
export const Turned = z.strictObject({ name: CommandName, commandId: z.string() })
export type Turned = z.infer<typeof Turned>

/** Does it in a worker thread, in one transaction on a second connection; null when it was cancelled, and then nothing is written. */
export function turnFile({ kind, projectPath, command, scope, nowMs, writer }: TurnJob, watch: ImportWatch): Turned | null {
  if (!watch.mayWrite()) return null
  const session = new Session(openSecondWriter(projectPath, writer), {
    clock: () => nowMs,
    uuid: () => {
      throw new Error('undo and redo make no identities of their own')
    },
    publish: watch.changed,
    log: () => undefined,
  })
  try {
    return turn(session, { command, scope }, kind, watch)
  } finally {
    session.file.close()
  }
}
