import { useMutation } from '@tanstack/react-query'
import { useLocation } from 'wouter'
import { orpc, queryClient } from '../app/client.ts'
import { readView } from '../app/last-view.ts'
import type { OpenFileData } from '../app/session.tsx'

/** Opens a project by whatever means, forgets what the page knew about the one before, and goes to where it was left. */
export function useEnterProject() {
  const [, go] = useLocation()
  return useMutation({
    mutationFn: async ({ open }: { what: string | null; path: string | null; open: () => Promise<OpenFileData> }) => {
      const opened = await open()
      queryClient.removeQueries({ predicate: (query) => !belongsToFiles(query.queryKey) })
      await queryClient.invalidateQueries({ queryKey: orpc.files.key() })
      return opened
    },
    onSuccess: (opened) => go(readView(opened.lastView).address ?? '/site'),
  })
}

function belongsToFiles(key: readonly unknown[]): boolean {
  const [path] = key
  return Array.isArray(path) && path[0] === 'files'
}
