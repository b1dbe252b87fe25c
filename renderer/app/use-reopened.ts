import { useEffect } from 'react'
import { useLocation } from 'wouter'
import { useToast } from '../ui/toast.tsx'
import { api, orpc, queryClient } from './client.ts'
import { type FilesStateData, useSay, useSession } from './session.tsx'

/** Says once that the program opened again what was open when it last ended, with a way to the other projects. */
export function useReopened(): void {
  const { files } = useSession()
  const toast = useToast()
  const t = useSay()
  const [, go] = useLocation()
  const reopened = files?.reopened ?? null
  useEffect(() => {
    if (!reopened || reopened.failure) return
    toast.note(t('projects.reopened', { name: reopened.name }), { label: t('projects.reopened_others', {}), onSelect: () => go('/') })
    tellReopened()
  }, [reopened, toast, t, go])
}

/** The person has been told: neither this window nor another says it again. */
export function tellReopened(): void {
  queryClient.setQueryData(orpc.files.state.queryKey(), (state: FilesStateData | undefined) => state && { ...state, reopened: null })
  void api.files.settings({ reopenedTold: true }).catch(() => undefined)
}
