import { CSPProvider } from '@base-ui/react/csp-provider'
import { Tooltip } from '@base-ui/react/tooltip'
import { QueryClientProvider } from '@tanstack/react-query'
import { useEffect } from 'react'
import { Router, useLocation } from 'wouter'
import { HomeScreen } from '../projects/screens.tsx'
import { Busy } from '../ui/busy.tsx'
import { ToastArea } from '../ui/toast.tsx'
import { VerdictPatterns } from '../ui/verdict-patterns.tsx'
import { useAddress } from './address.ts'
import { useChangeStream } from './changes.ts'
import { queryClient } from './client.ts'
import { ConnectionBanner } from './connection-banner.tsx'
import { useDesktopRequests } from './desktop-requests.ts'
import { SessionProvider, useSay, useSession } from './session.tsx'
import { Shell } from './shell.tsx'
import { useTheme } from './theme.ts'
import { TurnBanner } from './turn-banner.tsx'
import { useLastView } from './use-last-view.ts'
import { useReopened } from './use-reopened.ts'
import { OwnZone } from './words.tsx'

export function App() {
  return (
    <CSPProvider disableStyleElements>
      <QueryClientProvider client={queryClient}>
        <Router hook={useAddress}>
          <SessionProvider>
            <Tooltip.Provider delay={450}>
              <ToastArea>
                <VerdictPatterns />
                <Page />
              </ToastArea>
            </Tooltip.Provider>
          </SessionProvider>
        </Router>
      </QueryClientProvider>
    </CSPProvider>
  )
}

function Page() {
  const { files, project, ready, theme } = useSession()
  const t = useSay()
  const [address] = useLocation()
  useTheme(theme)
  useChangeStream()
  useLastView()
  useReopened()
  useDesktopRequests()
  useEffect(() => {
    document.title = project ? `${project.body.name} \u2013 ${t('app.name', {})}` : t('app.name', {})
  }, [project, t])
  return (
    <>
      <ConnectionBanner />
      <TurnBanner />
      {!files ? (
        <Busy label={t('app.connecting', {})} />
      ) : files.open === null || address === '/' ? (
        <OwnZone>
          <HomeScreen />
        </OwnZone>
      ) : ready ? (
        <Shell />
      ) : (
        <Busy label={t('app.loading', {})} />
      )}
    </>
  )
}
