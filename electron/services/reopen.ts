import path from 'node:path'
import type { z } from 'zod'
import { Failure } from '#core/api/errors.ts'
import type { Reopened } from '#core/api/files.ts'
import { message } from '#core/messages/say.ts'
import { classify } from '../project-file/problem.ts'
import { toContractError } from './failures.ts'
import type { Workspace } from './files.ts'

/**
 * Opens again the project that was open when the program last ended, whether it was ended or its power failed. What cannot be opened is
 * told, and stays closed.
 */
export async function reopen(workspace: Workspace, log: (error: unknown) => void): Promise<z.infer<typeof Reopened> | null> {
  const { settings } = workspace
  const { openNow, recent } = settings.current
  if (!openNow) return null
  const file = openNow.path
  // Should this file bring the program down, the next start leaves it alone.
  await settings.setOpenNow(null)
  try {
    const { name } = await workspace.open(file, openNow.readOnly)
    return { path: file, name, failure: null }
  } catch (error) {
    const failure = failureOf(classify(error, file), log)
    // Whoever has it open lets go of it some day.
    if (failure.kind === 'locked') await settings.setOpenNow(openNow)
    return { path: file, name: recent.find((entry) => entry.path === file)?.name ?? path.basename(file), failure }
  }
}

function failureOf(error: unknown, log: (error: unknown) => void): Failure {
  const parsed = Failure.safeParse(toContractError(error, log).data)
  return parsed.success ? parsed.data : { kind: 'internal', sentence: message('error.internal', { cause: 'Error' }), field: null }
}
