import { useMutation } from '@tanstack/react-query'
import type { EntityChange } from '#core/api/entities.ts'
import type { CommandName } from '#core/model/audit.ts'
import { useToast } from '../ui/toast.tsx'
import { api } from './client.ts'
import { newCommand } from './session.tsx'

type ChangeRequest = { name: CommandName; scope?: string; changes: EntityChange[]; reason?: string }

/**
 * Sends one command of entity changes. A failure is shown as a toast unless the caller handles it (`quiet`), for instance at a field.
 * `const change = useChange(); change.mutate({ name: 'edit', scope: roomId, changes: [...] })`
 */
export function useChange({ quiet = false }: { quiet?: boolean } = {}) {
  const toast = useToast()
  return useMutation({
    mutationFn: ({ name, scope = 'project', changes, reason }: ChangeRequest) =>
      api.entities.change({ command: newCommand(reason), name, scope, changes }),
    onError: (error) => {
      if (!quiet) toast.problem(error)
    },
  })
}
