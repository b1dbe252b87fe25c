import { Link } from 'wouter'
import { EmptyState } from '../ui/empty-state.tsx'
import type { IconName } from '../ui/icon.tsx'
import { useSay } from './words.tsx'

/** What an address leads to that is not there, or cannot be shown: says why, and offers the way back. */
export function Gone({ icon = 'find', title, to = 'site' }: { icon?: IconName; title: string; to?: 'site' | 'criteria' | 'instruments' }) {
  const t = useSay()
  return <EmptyState icon={icon} title={title} action={<Link href={`/${to}`}>{t(`app.go_to_${to}`, {})}</Link>} />
}
