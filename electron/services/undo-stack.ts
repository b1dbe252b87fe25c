import { COMMAND_NAMES, type CommandName } from '#core/model/audit.ts'
import type { StackLine } from '../project-file/trail-reading.ts'
import type { Session } from './session.ts'

/** Commands that are not taken back by undo: they found something, are signatures, or have a counterpart of their own. */
const KEPT: readonly CommandName[] = [
  'project.create',
  'project.import',
  'run.cautions',
  'run.complete',
  'run.reopen',
  'run.sign',
  'attach',
  'undo',
  'redo',
]
const UNDOABLE: ReadonlySet<CommandName> = new Set(COMMAND_NAMES.filter((name) => !KEPT.includes(name)))

export type StackTop = {
  readonly undo: { commandId: string; command: CommandName } | null
  readonly redo: { commandId: string; command: CommandName } | null
}

/**
 * What undo and redo would take next for one person and scope. It is worked out from the trail alone, newest entry first, and so
 * survives a restart: an `undo` covers the newest command not yet covered, a `redo` stands for the command it brought back.
 */
export function topOfStack(session: Session, scope: string, personId: string): StackTop {
  let covered = 0
  let broughtBack = 0
  let redoOpen = true
  let undo: string | null = null
  let redo: string | null = null
  for (const line of session.stores.trail.stack(scope, personId)) {
    const step = stepOf(line)
    if (step === 'other') continue
    if (step === 'undo') {
      covered += 1
      if (redoOpen && redo === null) {
        if (broughtBack > 0) broughtBack -= 1
        else redo = line.undoes
      }
    } else {
      if (step === 'redo') broughtBack += 1
      // A new command after an undo drops what could have been brought back.
      else redoOpen = false
      if (covered > 0) covered -= 1
      else undo ??= step === 'redo' ? line.undoes : line.commandId
    }
    if (undo !== null && (redo !== null || !redoOpen)) break
  }
  return { undo: named(session, undo), redo: named(session, redo) }
}

function stepOf(line: StackLine): 'undo' | 'redo' | 'done' | 'other' {
  if (line.command === 'undo' || line.command === 'redo') return line.command
  return UNDOABLE.has(line.command) ? 'done' : 'other'
}

function named(session: Session, commandId: string | null): StackTop['undo'] {
  if (commandId === null) return null
  const found = session.stores.trail.ofCommand(commandId)
  return found ? { commandId, command: found.entry.command } : null
}
