import { useQuery } from '@tanstack/react-query'
import { useCallback } from 'react'
import type { CommandName } from '#core/model/audit.ts'
import { useToast } from '../ui/toast.tsx'
import { api, orpc } from './client.ts'
import { useCommandWord } from './command-word.ts'
import { newCommand, useCanChange, usePerson, useSay } from './session.tsx'

export type Undo = { undo: () => void; redo: () => void; undoes: CommandName | null; redoes: CommandName | null }

/** Undo and redo of the current person within a scope: a run's or room's UUID, or 'project'. */
export function useUndo(scope: string): Undo {
  const person = usePerson()
  const canChange = useCanChange()
  const toast = useToast()
  const t = useSay()
  const word = useCommandWord()
  const state = useQuery(
    orpc.commands.state.queryOptions({ input: { personId: person?.id ?? '', scope }, enabled: canChange && person !== null }),
  )
  const undoes = canChange ? (state.data?.undo ?? null) : null
  const redoes = canChange ? (state.data?.redo ?? null) : null
  // Called whether or not the state has arrived: the engine knows best, and answers with a sentence when there is nothing.
  const undo = useCallback(() => {
    if (!canChange) return
    api.commands.undo({ command: newCommand(), scope }).then(
      (done) => toast.note(t('app.undo.done', { what: word(done.undone) })),
      (error: unknown) => toast.problem(error),
    )
  }, [canChange, scope, toast, t, word])
  const redo = useCallback(() => {
    if (!canChange) return
    api.commands.redo({ command: newCommand(), scope }).then(
      (done) => toast.note(t('app.redo.done', { what: word(done.redone) })),
      (error: unknown) => toast.problem(error),
    )
  }, [canChange, scope, toast, t, word])
  return { undo, redo, undoes, redoes }
}

/** The scope a screen's undo belongs to, from its address. */
export function undoScopeOf(address: string, search = ''): string {
  // What is imported into a run is taken back in the run.
  const into = address === '/import' ? new URLSearchParams(search).get('run') : null
  if (into !== null) return into
  return /^\/(?:room|run)\/([0-9a-f-]{36})(?:\/|$)/.exec(address)?.[1] ?? 'project'
}
