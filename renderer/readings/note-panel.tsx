import { useState } from 'react'
import { useSay } from '../app/session.tsx'
import { Button } from '../ui/button.tsx'
import { TextField } from '../ui/text-field.tsx'
import styles from './side-panel.module.css'

type NotePanelProps = { tag: string; order: number; note: string; stored: boolean; onSave: (note: string) => void; onClose: () => void }

/** A note beside a reading, written in the page, never over it. */
export function NotePanel({ tag, order, note, stored, onSave, onClose }: NotePanelProps) {
  const t = useSay()
  const [text, setText] = useState(note)
  const save = () => {
    onSave(text.trim())
    onClose()
  }
  return (
    <form
      className={styles.panel}
      aria-label={t('readings.note.title', { tag, order })}
      onSubmit={(event) => {
        event.preventDefault()
        save()
      }}
    >
      <p className={styles.title}>{t('readings.note.title', { tag, order })}</p>
      <TextField
        label={t('readings.note.label', {})}
        value={text}
        onChange={setText}
        autoFocus
        large
        maxLength={1000}
        hint={stored ? t('readings.note.hint_stored', {}) : t('readings.note.hint_next', {})}
        onKeyDown={(event) => {
          if (event.key === 'Escape') onClose()
        }}
      />
      <div className={styles.actions}>
        <Button large kind="primary" type="submit" disabled={text.trim() === note}>
          {t('readings.note.save', {})}
        </Button>
        <Button large kind="quiet" onClick={onClose}>
          {t('app.cancel', {})}
        </Button>
      </div>
    </form>
  )
}
