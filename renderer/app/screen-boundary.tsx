import { Component, type ReactNode } from 'react'
import { Button } from '../ui/button.tsx'
import { EmptyState } from '../ui/empty-state.tsx'
import { useSay } from './words.tsx'

/** Keeps a fault of one screen from taking the whole page away: it says so in its place, and the ways to other screens stay. */
export class ScreenBoundary extends Component<{ children: ReactNode }, { failed: boolean }> {
  override state = { failed: false }

  static getDerivedStateFromError(): { failed: boolean } {
    return { failed: true }
  }

  override render(): ReactNode {
    return this.state.failed ? <Failed /> : this.props.children
  }
}

function Failed() {
  const t = useSay()
  return (
    <EmptyState
      icon="warn"
      title={t('app.screen_failed', {})}
      action={<Button onClick={() => window.location.reload()}>{t('app.screen_failed.reload', {})}</Button>}
    />
  )
}
