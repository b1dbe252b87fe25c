import { useLocation } from 'wouter'
import type { IconName } from '../ui/icon.tsx'
import { api } from './client.ts'
import { useSay, useSession } from './session.tsx'
import type { ShellCommands } from './shell-keys.ts'

export type PaletteCommand = { key: string; label: string; icon: IconName; keys?: string; act: () => void }

/** Commands whose words hold every word typed; all of them while nothing is typed. */
export function usePaletteCommands(commands: ShellCommands, text: string): PaletteCommand[] {
  const t = useSay()
  const [, go] = useLocation()
  const { certification, theme, setTheme } = useSession()
  const goTo = (key: string, icon: IconName, place: string, address: string): PaletteCommand => ({
    key,
    icon,
    label: t('app.command.go', { place }),
    act: () => go(address),
  })
  const all: PaletteCommand[] = [
    goTo('go.site', 'facility', t('app.nav.site', {}), '/site'),
    ...(certification ? [goTo('go.certification', 'certification', certification.body.name, `/certification/${certification.id}`)] : []),
    ...(certification ? [goTo('go.balance', 'half', t('app.nav.balance', {}), `/balance/${certification.id}`)] : []),
    goTo('go.compare', 'compare', t('app.nav.compare', {}), '/compare'),
    goTo('go.plan', 'plan', t('app.nav.plan', {}), '/plan'),
    goTo('go.instruments', 'gauge', t('app.nav.instruments', {}), '/instruments'),
    goTo('go.criteria', 'criteria', t('app.nav.criteria', {}), '/criteria'),
    goTo('go.audit', 'trail', t('app.nav.audit', {}), '/audit'),
    goTo('go.project', 'settings', t('app.nav.project', {}), '/project'),
    { key: 'add_room', icon: 'add', label: t('app.command.add_room', {}), act: () => go('/site?add=room') },
    { key: 'undo', icon: 'undo', label: t('app.command.undo', {}), keys: 'Ctrl Z', act: commands.undo },
    { key: 'redo', icon: 'redo', label: t('app.command.redo', {}), keys: 'Ctrl Shift Z', act: commands.redo },
    { key: 'person', icon: 'person', label: t('app.command.person', {}), act: commands.person },
    { key: 'save_copy', icon: 'copy', label: t('app.command.save_copy', {}), act: () => go('/project?do=copy') },
    { key: 'export', icon: 'save', label: t('app.command.export', {}), act: () => go('/project?do=export') },
    { key: 'check', icon: 'check', label: t('app.command.check', {}), act: () => go('/project?do=check') },
    { key: 'theme', icon: 'half', label: t('app.command.theme', {}), act: () => setTheme(theme === 'dark' ? 'light' : 'dark') },
    { key: 'help', icon: 'help', label: t('app.strip.help', {}), keys: 'F1', act: commands.help },
    { key: 'projects', icon: 'folder', label: t('app.strip.projects', {}), act: () => go('/') },
    {
      key: 'close',
      icon: 'close',
      label: t('app.command.close', {}),
      act: () => {
        go('/')
        void api.files.close().catch(() => undefined)
      },
    },
  ]
  return all.filter((command) => holdsWords(command.label, text))
}

/** Every word of `text` stands at the start of some word of `label`, in any order, whatever the case. */
export function holdsWords(label: string, text: string): boolean {
  const words = label.toLocaleLowerCase().split(/\s+/)
  return text
    .toLocaleLowerCase()
    .split(/\s+/)
    .filter(Boolean)
    .every((part) => words.some((word) => word.startsWith(part)))
}
