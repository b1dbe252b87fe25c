import { useEffect, useRef } from 'react'
import { useLocation } from 'wouter'
import { useEnterProject } from '../projects/enter-project.ts'
import { useToast } from '../ui/toast.tsx'
import { api } from './client.ts'
import { desktopBridge } from './desktop-bridge.ts'

/** What the desktop asks of the page: files that the system wants opened, and the file commands of the native menu. */
export function useDesktopRequests(): void {
  const [, go] = useLocation()
  const enter = useEnterProject()
  const toast = useToast()
  const act = {
    open: (path: string) =>
      enter.mutate({ what: path, path, open: () => api.files.open({ path }) }, { onError: (error) => toast.problem(error) }),
    menu: (command: string) => {
      if (command === 'new') go('/?do=new')
      if (command === 'open') go('/?do=open')
      if (command === 'save_copy') go('/project?do=copy')
      if (command === 'close') {
        go('/')
        void api.files.close().catch((error: unknown) => toast.problem(error))
      }
    },
  }
  const latest = useRef(act)
  useEffect(() => {
    latest.current = act
  })
  useEffect(() => {
    const bridge = desktopBridge()
    if (!bridge) return
    const forgetOpen = bridge.onOpenRequest((path) => latest.current.open(path))
    const forgetMenu = bridge.onMenuCommand((command) => latest.current.menu(command))
    return () => {
      forgetOpen()
      forgetMenu()
    }
  }, [])
}
