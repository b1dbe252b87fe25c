import { keepPreviousData, useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { z } from 'zod'
import type { FileEntry } from '#core/api/files.ts'
import { orpc } from '../app/client.ts'
import { useFailureText, useFormatter, useSay, useSentence, useSession } from '../app/session.tsx'
import { Busy } from '../ui/busy.tsx'
import { Button, IconButton } from '../ui/button.tsx'
import { Checkbox } from '../ui/checkbox.tsx'
import { Dialog } from '../ui/dialog.tsx'
import { Icon, type IconName } from '../ui/icon.tsx'
import { TextField } from '../ui/text-field.tsx'
import type { ChooseFor } from './choose-place.tsx'
import { fileNameOf, inFolder, kindChosen } from './chooser-name.ts'
import styles from './file-chooser.module.css'
import { NewFolder } from './new-folder.tsx'

type Entry = z.infer<typeof FileEntry>
const ENTRY_ICON: Record<Entry['kind'], IconName> = {
  folder: 'folder',
  backups: 'clock',
  project: 'filter',
  exchange: 'file',
  other: 'file',
}

const isFolder = (entry: Entry): entry is Entry & { kind: 'folder' | 'backups' } => entry.kind === 'folder' || entry.kind === 'backups'

type FileChooserProps = {
  purpose: ChooseFor
  suggested: string
  /** the folder that it begins in; null: the first of those that this host may use */
  startIn: string | null
  onPick: (path: string, folder: string | null) => void
  onClose: () => void
  returnsFocus: () => boolean
}

/** Chooses a file or a place for one, inside the folders that this host may use. Arrows walk, Enter opens, Backspace goes up. */
export function FileChooser({ purpose, suggested, startIn, onPick, onClose, returnsFocus }: FileChooserProps) {
  const t = useSay()
  const sentence = useSentence()
  const failureText = useFailureText()
  const format = useFormatter()
  const { files } = useSession()
  const kind = kindChosen(purpose)
  const saving = purpose === 'save_project' || purpose === 'save_exchange'
  const [folder, setFolder] = useState<string | null>(startIn)
  const [selected, setSelected] = useState<string | null>(null)
  const [name, setName] = useState(suggested)
  const [nameError, setNameError] = useState<string | null>(null)
  const [showsBackups, setShowsBackups] = useState(false)
  const [makingFolder, setMakingFolder] = useState(false)
  const listing = useQuery(
    orpc.files.browse.queryOptions({ input: { path: folder }, placeholderData: keepPreviousData, staleTime: 0, retry: false }),
  )
  const here = listing.data?.path ?? null
  const parent = listing.data?.parent ?? null
  const all = listing.data?.entries ?? []
  const entries = all.filter((entry) => entry.kind === 'folder' || entry.kind === kind || (entry.kind === 'backups' && showsBackups))
  const hasBackups = purpose === 'open_project' && all.some((entry) => entry.kind === 'backups')
  const picked = entries.find((entry) => entry.path === selected && !isFolder(entry)) ?? null

  const enter = (path: string) => {
    setFolder(path)
    setSelected(null)
    setMakingFolder(false)
  }
  const activate = (entry: Entry) => {
    if (isFolder(entry)) return enter(entry.path)
    if (!saving) return onPick(entry.path, here)
    setName(entry.name)
  }
  const finish = () => {
    if (!saving) return picked ? onPick(picked.path, here) : undefined
    const fileName = kind === 'other' ? null : fileNameOf(name, kind)
    if (!fileName || here === null) return setNameError(t('projects.chooser.name_bad', {}))
    if (entries.some((entry) => entry.name === fileName)) return setNameError(t('projects.chooser.taken', { name: fileName }))
    onPick(inFolder(here, fileName), here)
  }
  const title = sentence({ code: `projects.chooser.${purpose}`, params: {} })

  return (
    <Dialog
      open
      onClose={onClose}
      title={title}
      returnsFocus={returnsFocus}
      wide
      actions={
        <>
          <Button onClick={onClose}>{t('app.cancel', {})}</Button>
          <Button kind="primary" onClick={finish} disabled={!saving && picked === null}>
            {saving
              ? t('projects.chooser.save', {})
              : kind === 'project'
                ? t('projects.chooser.open', {})
                : t('projects.chooser.choose', {})}
          </Button>
        </>
      }
    >
      <div className={styles.chooser}>
        <ul className={styles.roots} aria-label={t('projects.chooser.places', {})}>
          {files?.roots.map((root) => (
            <li key={root.path}>
              <button
                type="button"
                className={styles.root}
                aria-current={here === root.path || here?.startsWith(inFolder(root.path, '')) ? 'true' : undefined}
                title={root.path}
                onClick={() => enter(root.path)}
              >
                <Icon name="folder" />
                {root.name}
              </button>
            </li>
          ))}
        </ul>
        <div className={styles.listing}>
          <div className={styles.bar}>
            <IconButton
              icon="up"
              label={t('projects.chooser.up', {})}
              disabled={parent === null}
              onClick={() => parent && enter(parent)}
              large
            />
            <span className={styles.path} title={here ?? undefined}>
              {here}
            </span>
            <Button icon="add" kind="quiet" onClick={() => setMakingFolder(true)} disabled={here === null}>
              {t('projects.chooser.new_folder', {})}
            </Button>
          </div>
          {makingFolder && here !== null ? <NewFolder parent={here} onMade={enter} onCancel={() => setMakingFolder(false)} /> : null}
          {listing.isError ? (
            <p role="alert" className={styles.problem}>
              {failureText(listing.error)}
            </p>
          ) : null}
          {listing.isPending ? <Busy label={t('projects.chooser.reading', {})} /> : null}
          <ul
            className={styles.entries}
            aria-label={t('projects.chooser.here', { path: here ?? '' })}
            onKeyDown={(event) => {
              if (event.key === 'Backspace' && parent) enter(parent)
              else if (event.key === 'ArrowDown' || event.key === 'ArrowUp')
                moveFocus(event.currentTarget, event.key === 'ArrowDown' ? 1 : -1)
              else return
              event.preventDefault()
            }}
          >
            {entries.map((entry) => (
              <li key={entry.path}>
                <button
                  type="button"
                  className={styles.entry}
                  aria-current={entry.path === selected ? 'true' : undefined}
                  onFocus={() => setSelected(entry.path)}
                  onClick={() => {
                    setSelected(entry.path)
                    if (isFolder(entry)) enter(entry.path)
                    else if (saving) setName(entry.name)
                  }}
                  onDoubleClick={() => activate(entry)}
                  onKeyDown={(event) => {
                    if (event.key !== 'Enter') return
                    event.preventDefault()
                    activate(entry)
                  }}
                >
                  <Icon name={ENTRY_ICON[entry.kind]} />
                  <span className={styles.entryName}>{entry.name}</span>
                  <span className={styles.entryDetail}>
                    {isFolder(entry)
                      ? t(`projects.chooser.kind.${entry.kind}`, {})
                      : entry.bytes === null
                        ? ''
                        : t('projects.bytes', { bytes: entry.bytes })}
                  </span>
                  <span className={styles.entryDetail}>{entry.modifiedAt ? format.dateTime(entry.modifiedAt) : ''}</span>
                </button>
              </li>
            ))}
          </ul>
          {hasBackups ? (
            <Checkbox
              className={styles.backups}
              label={t('projects.chooser.show_backups', {})}
              checked={showsBackups}
              onChange={setShowsBackups}
            />
          ) : null}
          {listing.isSuccess && entries.length === 0 ? <p className={styles.none}>{t('projects.chooser.empty', {})}</p> : null}
        </div>
      </div>
      {saving ? (
        <TextField
          label={t('projects.chooser.file_name', {})}
          value={name}
          error={nameError}
          onChange={(text) => {
            setName(text)
            setNameError(null)
          }}
          onKeyDown={(event) => {
            if (event.key === 'Enter') finish()
          }}
          maxLength={130}
          autoFocus
          large
        />
      ) : null}
    </Dialog>
  )
}

function moveFocus(list: HTMLElement, step: 1 | -1): void {
  const buttons: HTMLElement[] = [...list.querySelectorAll('button')]
  const at = document.activeElement instanceof HTMLElement ? buttons.indexOf(document.activeElement) : -1
  buttons[Math.min(buttons.length - 1, Math.max(0, at + step))]?.focus()
}
