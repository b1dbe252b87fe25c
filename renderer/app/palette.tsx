import { Dialog as Base } from '@base-ui/react/dialog'
import { keepPreviousData, useQuery } from '@tanstack/react-query'
import { Command } from 'cmdk'
import { useDeferredValue, useState } from 'react'
import { useLocation } from 'wouter'
import type { EntityKind } from '#core/model/entities.ts'
import { joined } from '../ui/class-names.ts'
import dialog from '../ui/dialog.module.css'
import { Icon, type IconName } from '../ui/icon.tsx'
import { orpc } from './client.ts'
import { addressOf } from './found-address.ts'
import styles from './palette.module.css'
import { holdsWords, usePaletteCommands } from './palette-commands.ts'
import { useSay, useSentence } from './session.tsx'
import type { ShellCommands } from './shell-keys.ts'

const KIND_ICON: Record<EntityKind, IconName> = {
  project: 'settings',
  person: 'person',
  facility: 'facility',
  room: 'room',
  zone: 'room',
  terminal: 'filter',
  filter_element: 'filter',
  door: 'room',
  air_system: 'facility',
  instrument: 'gauge',
  calibration: 'gauge',
  criteria_set: 'criteria',
  import_mapping: 'file',
  certification: 'certification',
  run: 'run',
}

type PaletteProps = { open: boolean; onClose: () => void; commands: ShellCommands }

/** One keystroke to anywhere: a few letters of a room, filter, run, instrument or command. */
export function Palette({ open, onClose, commands }: PaletteProps) {
  const t = useSay()
  return (
    <Base.Root open={open} onOpenChange={(next) => (next ? undefined : onClose())}>
      <Base.Portal>
        <Base.Backdrop className={dialog.backdrop} />
        <Base.Popup className={joined(dialog.popup, styles.popup)} aria-label={t('app.find.title', {})}>
          <Finder onClose={onClose} commands={commands} />
        </Base.Popup>
      </Base.Portal>
    </Base.Root>
  )
}

function Finder({ onClose, commands }: Omit<PaletteProps, 'open'>) {
  const t = useSay()
  const sentence = useSentence()
  const [, go] = useLocation()
  const [text, setText] = useState('')
  const wanted = useDeferredValue(text.trim())
  const found = useQuery(
    orpc.search.find.queryOptions({ input: { text: wanted, limit: 20 }, enabled: wanted !== '', placeholderData: keepPreviousData }),
  )
  // Answers to fewer letters stay in sight until the next ones come, but never what does not fit any more: Enter must not go there.
  const answers = found.data?.filter((result) => !found.isPlaceholderData || holdsWords(`${result.label} ${result.detail}`, wanted))
  const results = wanted === '' ? [] : (answers ?? [])
  const doable = usePaletteCommands(commands, wanted)
  // Answers arrive after the typing: the first of them is chosen unless the arrows chose another that is still there.
  const [chosen, setChosen] = useState('')
  const keys = [...results.map((result) => result.id), ...doable.map((command) => command.key)]
  const value = keys.includes(chosen) ? chosen : (keys[0] ?? '')
  const run = (act: () => void) => {
    onClose()
    act()
  }
  return (
    <Command shouldFilter={false} loop value={value} onValueChange={setChosen} label={t('app.find.title', {})} className={styles.finder}>
      <div className={styles.entry}>
        <Icon name="find" />
        <Command.Input
          value={text}
          onValueChange={(next) => {
            setText(next)
            setChosen('')
          }}
          placeholder={t('app.find.placeholder', {})}
          className={styles.input}
          autoFocus
        />
      </div>
      <Command.List className={styles.list} label={t('app.find.title', {})}>
        {found.isFetching && results.length === 0 && wanted !== '' ? <Command.Loading>{t('app.find.busy', {})}</Command.Loading> : null}
        {!found.isFetching && results.length === 0 && doable.length === 0 ? (
          <p className={styles.nothing}>{t('app.find.nothing', { text: wanted })}</p>
        ) : null}
        {results.length > 0 ? (
          <Command.Group heading={t('app.find.found', {})} className={styles.group}>
            {results.map((result) => (
              <Command.Item key={result.id} value={result.id} className={styles.item} onSelect={() => run(() => go(addressOf(result)))}>
                <Icon name={KIND_ICON[result.kind]} />
                <span className={styles.label}>{result.label}</span>
                <span className={styles.detail}>{result.detail || sentence({ code: `app.find.kind.${result.kind}`, params: {} })}</span>
              </Command.Item>
            ))}
          </Command.Group>
        ) : null}
        {doable.length > 0 ? (
          <Command.Group heading={t('app.find.commands', {})} className={styles.group}>
            {doable.map((command) => (
              <Command.Item key={command.key} value={command.key} className={styles.item} onSelect={() => run(command.act)}>
                <Icon name={command.icon} />
                <span className={styles.label}>{command.label}</span>
                {command.keys ? <kbd className={styles.detail}>{command.keys}</kbd> : null}
              </Command.Item>
            ))}
          </Command.Group>
        ) : null}
      </Command.List>
      <p className={styles.hint}>{t('app.find.hint', {})}</p>
    </Command>
  )
}
