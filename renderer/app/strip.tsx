import { Link } from 'wouter'
import { unsentByRun } from '../readings/courier.ts'
import { Button, IconButton } from '../ui/button.tsx'
import { Icon } from '../ui/icon.tsx'
import { Menu } from '../ui/menu.tsx'
import { Select } from '../ui/select.tsx'
import { newestFirst } from './certification-shown.ts'
import { connection } from './client.ts'
import { useCommandWord } from './command-word.ts'
import { useExternalState } from './external-state.ts'
import { savedState } from './saved-state.ts'
import { type Theme, useFormatter, useSay, useSession } from './session.tsx'
import type { ShellCommands } from './shell-keys.ts'
import styles from './strip.module.css'
import type { Undo } from './undo.ts'
import { useConnectionState } from './use-connection-state.ts'

type StripProps = { commands: ShellCommands; undo: Undo; whereOpen: boolean; onWhere: () => void }

/** Project, certification, person, saved state, undo, find, theme, help: the same place on every screen. */
export function Strip({ commands, undo, whereOpen, onWhere }: StripProps) {
  const t = useSay()
  const word = useCommandWord()
  const { project, files, person } = useSession()
  return (
    <header className={styles.strip}>
      <span className={styles.whereToggle}>
        <IconButton
          icon="menu"
          label={whereOpen ? t('app.where.close', {}) : t('app.where.open', {})}
          aria-expanded={whereOpen}
          onClick={onWhere}
          large
        />
      </span>
      <Link href="/" className={styles.home} aria-label={t('app.strip.projects', {})} title={t('app.strip.projects', {})}>
        <Emblem />
      </Link>
      <div className={styles.project}>
        <Link href="/project" className={styles.projectName}>
          {project?.body.name}
        </Link>
        {files?.open?.readOnly ? (
          <span className={styles.readOnly}>
            <Icon name="lock" size={14} />
            {t('app.strip.read_only', {})}
          </span>
        ) : (
          <Saved />
        )}
      </div>
      <CertificationChoice className={styles.certification} />
      <div className={styles.group}>
        <IconButton
          icon="undo"
          label={t('app.strip.undo', { what: undo.undoes ? word(undo.undoes) : '' })}
          keys="Ctrl Z"
          disabled={undo.undoes === null}
          focusableWhenDisabled
          onClick={undo.undo}
          large
        />
        <IconButton
          icon="redo"
          label={t('app.strip.redo', { what: undo.redoes ? word(undo.redoes) : '' })}
          keys="Ctrl Shift Z"
          disabled={undo.redoes === null}
          focusableWhenDisabled
          onClick={undo.redo}
          large
        />
      </div>
      <button type="button" className={styles.find} onClick={commands.find}>
        <Icon name="find" size={16} />
        <span className={styles.findText}>{t('app.strip.find', {})}</span>
        <kbd className={styles.findKey}>{FIND_KEY}</kbd>
      </button>
      <Button kind="quiet" icon="person" large className={styles.person} onClick={commands.person}>
        <span className="visually-hidden">{t('app.person.label', {})}</span>
        <span className={styles.personName}>{person?.body.name ?? t('app.person.none', {})}</span>
      </Button>
      <div className={styles.group}>
        <ThemeMenu />
        <IconButton icon="help" label={t('app.strip.help', {})} keys="F1" onClick={commands.help} large />
      </div>
    </header>
  )
}

const FIND_KEY = 'Ctrl K'

export function Emblem({ size = 26 }: { size?: number }) {
  return (
    <svg width={size} height={size} viewBox="0 0 32 32" aria-hidden="true">
      <rect x="2" y="2" width="28" height="28" rx="3" fill="var(--accent)" />
      <path d="M8 8h16v16H8ZM8 13.3h16M8 18.7h16M13.3 8v16M18.7 8v16" fill="none" stroke="var(--accent-ink)" strokeWidth="1.6" />
      <rect x="13.3" y="13.3" width="5.4" height="5.4" fill="var(--accent-ink)" />
    </svg>
  )
}

/** How far everything typed in this window has come, readings of runs that were left included. */
function Saved() {
  const t = useSay()
  const { pending, outcome } = useExternalState(savedState)
  const unsent = useExternalState(unsentByRun)
  const lost = useConnectionState(connection) === 'lost'
  const refusedAt = [...unsent].find(([, { refused }]) => refused > 0)?.[0]
  if (refusedAt !== undefined)
    return (
      <Link href={`/run/${refusedAt}`} className={styles.saved} data-state="failed">
        <Icon name="warn" size={14} />
        {t('app.saved.refused', { count: [...unsent.values()].reduce((sum, { refused }) => sum + refused, 0) })}
      </Link>
    )
  const waiting = [...unsent.values()].reduce((sum, run) => sum + run.waiting, 0)
  const busy = pending > 0 || waiting > 0
  const failed = outcome === 'failed' && !busy
  const text = busy
    ? lost
      ? t('app.saved.waiting', { readings: waiting })
      : t('app.saved.saving', {})
    : failed
      ? t('app.saved.failed', {})
      : outcome === 'saved'
        ? t('app.saved.saved', {})
        : t('app.saved.unchanged', {})
  return (
    <span className={styles.saved} role="status" data-state={busy ? 'pending' : failed ? 'failed' : 'saved'}>
      <Icon name={busy ? 'clock' : failed ? 'warn' : 'check'} size={14} />
      {text}
    </span>
  )
}

/** Which certification the whole window speaks of. */
export function CertificationChoice({ className }: { className?: string | undefined }) {
  const t = useSay()
  const format = useFormatter()
  const { certifications, certification, showCertification } = useSession()
  return (
    <Select
      className={className}
      label={t('app.strip.certification', {})}
      hideLabel
      large
      value={certification?.id ?? null}
      placeholder={t('app.strip.no_certification', {})}
      disabled={certifications.length === 0}
      onChange={showCertification}
      choices={newestFirst(certifications).map((choice) => ({
        value: choice.id,
        label: choice.body.name,
        detail: choice.body.finished ? t('app.strip.finished', {}) : format.date(choice.body.startsOn),
      }))}
    />
  )
}

const THEME_ICON = { system: 'half', light: 'sun', dark: 'moon' } as const

function ThemeMenu() {
  const t = useSay()
  const { theme, setTheme } = useSession()
  const label: Record<Theme, string> = {
    system: t('app.strip.theme.system', {}),
    light: t('app.strip.theme.light', {}),
    dark: t('app.strip.theme.dark', {}),
  }
  return (
    <Menu
      trigger={<IconButton icon={THEME_ICON[theme]} label={t('app.strip.theme', {})} large />}
      entries={(['system', 'light', 'dark'] as const).map((choice) => ({
        label: label[choice],
        checked: choice === theme,
        onSelect: () => setTheme(choice),
      }))}
    />
  )
}
